/** How a test writes a WAV file; what is not given is plain. */
export interface WaveWriting {
  /** One array per track, equally long, share of full scale. */
  readonly tracks: readonly ArrayLike<number>[];
  readonly rate?: number;
  readonly encoding?: 'integer' | 'float';
  readonly bits?: 8 | 16 | 24 | 32 | 64;
  readonly extensible?: boolean;
  /** Said length of the samples [bytes]; as it is when absent. */
  readonly said?: number;
  /** A chunk of so many bytes before the samples. */
  readonly remark?: number;
}

/** Bytes of a WAV file, written from the specification and not by the reader's code. */
export function waveBytes(writing: WaveWriting): Uint8Array {
  const { tracks, rate = 8000, encoding = 'integer', bits = 16, extensible = false, remark } = writing;
  const bytes = bits / 8;
  const data = new DataView(new ArrayBuffer(tracks[0].length * tracks.length * bytes));
  for (let i = 0, at = 0; i < tracks[0].length; i++) {
    for (const track of tracks) {
      writeSample(data, { at, value: track[i], encoding, bits });
      at += bytes;
    }
  }
  const code = encoding === 'float' ? 3 : 1;
  const short = [
    ...u16(extensible ? 0xfffe : code),
    ...u16(tracks.length),
    ...u32(rate),
    ...u32(rate * tracks.length * bytes),
    ...u16(tracks.length * bytes),
    ...u16(bits),
  ];
  const guid = [...u16(code), 0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71];
  const format = extensible ? [...short, ...u16(22), ...u16(bits), ...u32(0), ...guid] : short;
  const before =
    remark === undefined ? [] : [...text('LIST'), ...u32(remark), ...new Array<number>(remark + (remark % 2)).fill(32)];
  const head = [
    ...text('WAVE'),
    ...text('fmt '),
    ...u32(format.length),
    ...format,
    ...before,
    ...text('data'),
    ...u32(writing.said ?? data.byteLength),
  ];
  return Uint8Array.from([
    ...text('RIFF'),
    ...u32(head.length + data.byteLength),
    ...head,
    ...new Uint8Array(data.buffer),
  ]);
}

interface Writing {
  readonly at: number;
  readonly value: number;
  readonly encoding: 'integer' | 'float';
  readonly bits: number;
}

function writeSample(view: DataView, { at, value, encoding, bits }: Writing): void {
  if (encoding === 'float') {
    if (bits === 32) view.setFloat32(at, value, true);
    else view.setFloat64(at, value, true);
    return;
  }
  const top = 2 ** (bits - 1);
  const whole = Math.max(-top, Math.min(top - 1, Math.round(value * top)));
  if (bits === 8) view.setUint8(at, whole + 128);
  else if (bits === 16) view.setInt16(at, whole, true);
  else if (bits === 32) view.setInt32(at, whole, true);
  else {
    view.setUint16(at, whole & 0xffff, true);
    view.setInt8(at + 2, whole >> 16);
  }
}

const u16 = (n: number): number[] => [n & 255, (n >> 8) & 255];
const u32 = (n: number): number[] => [n & 255, (n >>> 8) & 255, (n >>> 16) & 255, (n >>> 24) & 255];
const text = (word: string): number[] => [...word].map((letter) => letter.charCodeAt(0));
