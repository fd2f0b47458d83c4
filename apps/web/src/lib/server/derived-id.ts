import { createHash } from 'node:crypto';

/**
 * An id that follows from a form's own: the same form sent again makes the same things, a corrected form new ones.
 * A UUID of version 8 (RFC 9562, 5.8) from a SHA-256.
 */
export function derivedId(formId: string, part: string): string {
  const hex = createHash('sha256').update(`${formId} ${part}`).digest('hex');
  const variant = ((Number.parseInt(hex[16]!, 16) & 0x3) | 0x8).toString(16);
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-${variant}${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
}
