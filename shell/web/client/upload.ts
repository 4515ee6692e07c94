import { type FileView, fileView } from '../../contract/index.ts';
import { type Answer, decodedText } from './ask.ts';
import { paths } from './paths.ts';

/** A file on its way to the server. */
export interface Upload {
  readonly answer: Promise<Answer<FileView>>;
  readonly cancel: () => void;
}

/** Sends one file's bytes unchanged. sent: share 0…1 that has left this page. */
export function upload(file: File, sent: (share: number) => void): Upload {
  // XMLHttpRequest because fetch does not report how much was sent.
  const request = new XMLHttpRequest();
  const answer = new Promise<Answer<FileView>>((resolve) => {
    const refuse = (kind: string, message: string) => resolve({ ok: false, refusal: { kind, message }, fields: [] });
    request.upload.addEventListener('progress', ({ loaded, total }) => sent(total > 0 ? loaded / total : 0));
    request.addEventListener('load', () =>
      resolve(decodedText({ status: request.status, text: request.responseText }, fileView)),
    );
    request.addEventListener('error', () => refuse('server-gone', 'missing server: Knurl does not answer'));
    request.addEventListener('abort', () => refuse('cancelled', 'cancelled'));
    request.open('PUT', paths.file(file.name));
    request.setRequestHeader('content-type', 'application/octet-stream');
    request.send(file);
  });
  return { answer, cancel: () => request.abort() };
}
