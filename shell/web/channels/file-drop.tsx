import { type DragEvent, useRef, useState } from 'react';
import type { FileView, RefusalRecord } from '../../contract/index.ts';
import { upload } from '../client/upload.ts';
import { Refused } from '../frame/states.tsx';
import { bytesInWords } from '../frame/wording.ts';

interface Coming {
  readonly name: string;
  readonly size: number;
  readonly share: number;
  readonly cancel: () => void;
  readonly refusal?: RefusalRecord;
}

/** Takes files by dropping them or through the file chooser; each shows how far it is and can be cancelled. */
export function FileDrop({ taken }: { readonly taken: (reading: FileView) => void }) {
  const [coming, setComing] = useState<readonly Coming[]>([]);
  const [over, setOver] = useState(false);
  const chooser = useRef<HTMLInputElement>(null);
  const change = (name: string, next: Partial<Coming>) =>
    setComing((former) => former.map((file) => (file.name === name ? { ...file, ...next } : file)));
  const bring = async (files: FileList | null) => {
    for (const file of files ?? []) {
      const { answer, cancel } = upload(file, (share) => change(file.name, { share }));
      const line = { name: file.name, size: file.size, share: 0, cancel };
      setComing((former) => [...former.filter(({ name }) => name !== file.name), line]);
      const result = await answer;
      if (result.ok) {
        setComing((former) => former.filter(({ name }) => name !== file.name));
        taken(result.value);
      } else change(file.name, { refusal: result.refusal });
    }
  };
  const drop = (event: DragEvent) => {
    event.preventDefault();
    setOver(false);
    bring(event.dataTransfer.files);
  };
  const hover = (event: DragEvent) => {
    event.preventDefault();
    setOver(true);
  };
  return (
    <section
      aria-label="Files"
      className={`drop ${over ? 'over' : ''}`}
      onDragOver={hover}
      onDragLeave={() => setOver(false)}
      onDrop={drop}
    >
      <p className="drop-title">Drop one or two logs of a pull here</p>
      <p className="quiet">
        The roller’s log and the engine’s, or one that holds both. Text with any separator, Parquet, Arrow; a sound
        (WAV) beside them.
      </p>
      <button type="button" className="first" onClick={() => chooser.current?.click()}>
        Choose files
      </button>
      <input
        ref={chooser}
        className="unseen"
        type="file"
        multiple
        tabIndex={-1}
        aria-label="Files"
        onChange={({ currentTarget }) => bring(currentTarget.files)}
      />
      {coming.map((file) => (
        <ComingLine key={file.name} file={file} />
      ))}
    </section>
  );
}

function ComingLine({ file: { name, size, share, cancel, refusal } }: { readonly file: Coming }) {
  if (refusal) return <Refused refusal={refusal} title={`${name} was not taken in`} />;
  return (
    <p className="state-line" role="status">
      {name}, {bytesInWords(size)}: {share < 1 ? 'sending' : 'reading'}
      <progress max={1} {...(share < 1 && { value: share })} aria-label={`${name} sent`} />
      <button type="button" onClick={cancel}>
        Cancel
      </button>
    </p>
  );
}
