import { createHash } from 'node:crypto';

/** SHA-256 of bytes, as 64 hex digits. @source FIPS 180-4 */
export function sha256Hex(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
