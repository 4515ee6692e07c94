/** One step of the tables, from the version before to this one. Steps are never edited, only added. */
export interface Migration {
  readonly version: number;
  readonly statements: readonly string[];
}

export const MIGRATIONS: readonly Migration[] = [
  {
    version: 1,
    statements: [
      `create table days (day text primary key, at text not null) strict`,
      `create table folders (
         sequence integer primary key autoincrement, day text not null references days (day), folder text, at text not null
       ) strict`,
      `create index folders_of_day on folders (day, sequence)`,
      `create table facts (
         day text not null references days (day), sequence integer not null, at text not null, why text not null,
         restores integer, record text not null, digest text not null, primary key (day, sequence)
       ) strict`,
      `create table day_files (
         sequence integer primary key autoincrement, day text not null references days (day), name text not null,
         hash text not null, bytes integer not null, at text not null
       ) strict`,
      `create index files_of_day on day_files (day, name, sequence)`,
      `create table sources (
         sequence integer primary key autoincrement, hash text not null, name text not null, bytes integer not null,
         at text not null
       ) strict`,
      `create index sources_of_hash on sources (hash, sequence)`,
      `create table mappings (
         sequence integer primary key autoincrement, column_set text not null, at text not null, record text not null,
         digest text not null
       ) strict`,
      `create index mappings_of_set on mappings (column_set, sequence)`,
    ],
  },
];
