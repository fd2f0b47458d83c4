import type { LabelOut } from '@ashwater/contracts';

export type LabelLine = { code: string; text: string; usText: string | null };

/**
 * Not more than six precautionary statements stand on a label unless the hazard needs more (CLP Article 28(3)).
 * For what corrodes, the six kept are gear, locking up, and what to do at once; the choice is ours.
 */
const FIRST = ['P280', 'P303+P361+P353', 'P305+P351+P338', 'P301+P330+P331', 'P310', 'P405'];

/** Wording that differs by more than capitals: an instruction written large is the same instruction. */
export const differs = (text: string, usText: string | undefined): usText is string => usText !== undefined && usText.toLowerCase() !== text.toLowerCase();

/** The statements for paper, at most six; a page shows them all. */
export function labelLines({ precautions }: LabelOut): LabelLine[] {
  const kept = precautions.length > FIRST.length ? FIRST.flatMap((code) => precautions.filter((each) => each.code === code)) : precautions;
  return kept.map(({ code, text, usText }) => ({ code, text, usText: differs(text, usText) ? usText : null }));
}

/** The US signal word and hazard statements where they are not the EU's; empty where both say the same. */
export function usWords(hazard: { signalWord: string; statements: readonly { text: string }[] }, { us }: LabelOut): string {
  const same = us.signalWord === hazard.signalWord && us.statements.join() === hazard.statements.map(({ text }) => text).join();
  if (same) return '';
  return us.signalWord === '' ? 'no signal word.' : `${us.signalWord}. ${us.statements.join(' ')}`;
}
