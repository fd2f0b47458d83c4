/** Up to which message of the class this device has put away. */
export const SEEN_COOKIE = 'ashwater_seen';

/** The messages that are still to be read here: those after the last one put away. */
export function unread<M extends { seq: number }>(messages: readonly M[], seen: string | undefined): M[] {
  const upTo = /^\d{1,15}$/.test(seen ?? '') ? Number(seen) : 0;
  return messages.filter((message) => message.seq > upTo);
}
