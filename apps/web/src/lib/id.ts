/**
 * A UUID version 7 (RFC 9562, 5.7): 48 bits of Unix milliseconds, then random bits. Made where the thing is made,
 * so that a form sent twice carries the same id. `crypto.randomUUID` is not used: browsers hide it on plain http.
 */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  let millis = Date.now();
  for (let i = 5; i >= 0; i -= 1) {
    bytes[i] = millis % 256;
    millis = Math.floor(millis / 256);
  }
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x70;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}
