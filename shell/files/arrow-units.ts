import { RecordBatchReader, type Schema } from 'apache-arrow';

/** Unit of each field that has a metadata key `unit`. */
export function fieldUnits(schema: Schema): ReadonlyMap<string, string> {
  const units = new Map<string, string>();
  for (const field of schema.fields) {
    const unit = field.metadata.get('unit');
    if (unit !== undefined) units.set(field.name, unit);
  }
  return units;
}

/** Units from an Arrow schema kept as base64 text in another file; empty when it cannot be read, for it is only an extra. */
export function schemaUnits(base64: string): ReadonlyMap<string, string> {
  try {
    const reader = RecordBatchReader.from(Buffer.from(base64, 'base64')).open();
    return fieldUnits(reader.schema);
  } catch {
    return new Map();
  }
}
