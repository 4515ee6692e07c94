import type { Refusal } from '../../core/quantities/index.ts';

/**
 * HTTP status of a refusal. The only place where kinds become statuses.
 * 404: it is not there. 409: it is there, but not in this state. 413: too large. 503: somebody else holds the store. 507: the disk is full or fails. 403: not from here. 422: understood, cannot be answered.
 *
 * @source RFC 9110 section 15.5
 */
export function statusOf({ kind }: Refusal): RefusalStatus {
  const exact = EXACT[kind];
  if (exact !== undefined) return exact;
  return NOT_THERE.test(kind) ? 404 : 422;
}

export type RefusalStatus = 400 | 403 | 404 | 409 | 413 | 422 | 499 | 500 | 503 | 507;

const NOT_THERE = /^(unknown|missing|no)-(day|entry|file|source|folder|record|reading|raw)$/;

const EXACT: Readonly<Record<string, RefusalStatus>> = {
  'invalid-request': 400,
  'foreign-origin': 403,
  'foreign-host': 403,
  'unknown-address': 404,
  'nothing-to-undo': 409,
  'mixed-rules': 409,
  'changed-elsewhere': 409,
  'file-exists': 409,
  'repeated-day': 409,
  'store-busy': 503,
  'folder-too-large': 413,
  'yaml-too-large': 413,
  'damaged-store': 500,
  'damaged-raw': 500,
  'damaged-record': 500,
  failed: 500,
  disk: 507,
  'too-large': 413,
  interrupted: 499,
  cancelled: 499,
  'internal-fault': 500,
};
