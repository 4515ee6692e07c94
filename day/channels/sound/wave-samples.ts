import type { WaveFormat } from './wave-format.ts';

/**
 * Samples of one track out of whole frames, as a share of full scale [1], −1 … 1 (floating point may go beyond).
 *
 * Integers are divided by 2^(bits−1) of their container; one byte counts from 128. Not-a-number and infinity come out as NaN.
 *
 * @param bytes whole frames, from the first one on
 * @param track 0 … tracks − 1
 * @source RIFF specification (1991): samples of up to 8 bits are offset binary, longer ones two's complement, least byte first
 */
export function waveSamples(bytes: Uint8Array, format: WaveFormat, track: number): Float64Array {
  const { frameBytes, sampleBytes } = format;
  const frames = Math.floor(bytes.length / frameBytes);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const read = sampleReader(view, format);
  const samples = new Float64Array(frames);
  for (let i = 0, at = track * sampleBytes; i < frames; i++, at += frameBytes) {
    const value = read(at);
    samples[i] = Number.isFinite(value) ? value : Number.NaN;
  }
  return samples;
}

function sampleReader(view: DataView, { encoding, sampleBytes }: WaveFormat): (at: number) => number {
  if (encoding === 'float')
    return sampleBytes === 4 ? (at) => view.getFloat32(at, true) : (at) => view.getFloat64(at, true);
  switch (sampleBytes) {
    case 1:
      return (at) => (view.getUint8(at) - 128) / 2 ** 7;
    case 2:
      return (at) => view.getInt16(at, true) / 2 ** 15;
    case 3:
      return (at) => (view.getUint16(at, true) + 2 ** 16 * view.getInt8(at + 2)) / 2 ** 23;
    default:
      return (at) => view.getInt32(at, true) / 2 ** 31;
  }
}
