import { NAOH_PER_KOH } from './alkali.ts';
import { checkNumber, figure } from './check-number.ts';
import type { Fat } from './fats.ts';
import { fatByKey } from './fats.ts';
import { ageInDays } from './iso-date.ts';
import type { FormulationProblem, Outcome } from './outcome.ts';
import { problem, refuse, succeed } from './outcome.ts';

/**
 * What a supplier's certificate states of one lot: saponification value and its expanded uncertainty
 * (k = 2), both mg KOH per g, and the day of the analysis as "2026-03-31". `asOf` is the day it is
 * judged; without it a certificate is not called old.
 */
export type Certificate = { fatKey: string; valueMgKohPerG: number; expandedUncertainty: number; date?: string; asOf?: string };

export type CertificateQuestion = 'outside-range' | 'no-uncertainty' | 'wider-than-range' | 'old' | 'dated-ahead';

/** `words` begins with the verdict; each question is a sentence with its figures. */
export type CertificateJudgement = {
  verdict: 'inside' | 'question';
  /** What the certificate says the value can be, mg KOH per g; it replaces the published range. */
  lowMgKohPerG: number;
  highMgKohPerG: number;
  publishedLowMgKohPerG: number;
  publishedHighMgKohPerG: number;
  questions: { code: CertificateQuestion; detail: string }[];
  words: string;
};

/** Our choice: most edible oils are sold to be used within two years. */
const OLD_AFTER_DAYS = 730;

/** Past tributyrin (557), the lightest triglyceride in any fat here, it is not a saponification value. */
const HIGHEST = 557;

function checkCertificate(certificate: Certificate): FormulationProblem[] {
  const { fatKey, valueMgKohPerG, expandedUncertainty, date, asOf } = certificate;
  const problems = [
    ...checkNumber(valueMgKohPerG, '/valueMgKohPerG', { name: 'The saponification value', unit: 'mg/g', min: 1, max: HIGHEST }),
    ...checkNumber(expandedUncertainty, '/expandedUncertainty', { name: 'The expanded uncertainty', unit: 'mg/g', min: 0, max: HIGHEST }),
  ];
  if (problems.length === 0 && expandedUncertainty >= valueMgKohPerG) {
    const detail = `The expanded uncertainty (${figure(expandedUncertainty)}) is not smaller than the value (${figure(valueMgKohPerG)}); read the certificate again.`;
    problems.push(problem('value-out-of-range', '/expandedUncertainty', detail));
  }
  if (!fatByKey(fatKey)) problems.unshift(problem('fat-unknown', '/fatKey', `There is no fat "${fatKey}" in the list; choose one of it.`, { fatKey }));
  for (const [pointer, day] of [
    ['/date', date],
    ['/asOf', asOf],
  ] as const) {
    if (day !== undefined && ageInDays(day, day) === undefined) {
      problems.push(problem('value-out-of-range', pointer, `"${day}" is not a day; write it like 2026-03-31.`, { date: day }));
    }
  }
  return problems;
}

/** Why a value may be off, when a common slip explains it: said as a question, never corrected. */
function likelySlip(value: number, { low, high }: { low: number; high: number }): string {
  const fits = (each: number): boolean => each >= low && each <= high;
  if (fits(value / NAOH_PER_KOH)) return ` As milligrams of sodium hydroxide it would be ${figure(value / NAOH_PER_KOH, 1)}: ask which alkali is meant.`;
  if (fits(value * 10)) return ` Ten times it (${figure(value * 10, 1)}) would fit: look for a lost digit.`;
  return ' Ask the supplier whether the certificate belongs to this fat and this lot.';
}

function questionsOf(certificate: Certificate, fat: Fat): CertificateJudgement['questions'] {
  const { valueMgKohPerG: value, expandedUncertainty: uncertainty, date, asOf } = certificate;
  const { low, high } = fat.saponificationValue;
  const range = `the published range of ${fat.name} (${low} to ${high} mg/g)`;
  const questions: CertificateJudgement['questions'] = [];
  if (value < low || value > high) {
    const gap = value < low ? `${figure(low - value)} below` : `${figure(value - high)} above`;
    questions.push({ code: 'outside-range', detail: `${figure(value)} mg/g is ${gap} ${range}.${likelySlip(value, { low, high })}` });
  }
  if (uncertainty === 0) {
    questions.push({ code: 'no-uncertainty', detail: 'No measurement is exact: an expanded uncertainty of 0 leaves the superfat band narrower than it is.' });
  } else if (2 * uncertainty > high - low) {
    questions.push({
      code: 'wider-than-range',
      detail: `${figure(value)} ± ${figure(uncertainty)} mg/g is wider than ${range}, so it says less than no certificate.`,
    });
  }
  const days = date !== undefined && asOf !== undefined ? ageInDays(date, asOf) : undefined;
  if (days !== undefined && days < 0) questions.push({ code: 'dated-ahead', detail: `The certificate is dated ${date}, after ${asOf}: check the day.` });
  if (days !== undefined && days > OLD_AFTER_DAYS) {
    questions.push({ code: 'old', detail: `The certificate of ${date} was ${days} days old on ${asOf}: ask for one of the lot in use.` });
  }
  return questions;
}

/**
 * Judges a certificate against the published range of its fat. A value outside is a question for a
 * person, never a refusal: a lot may leave the range, and a slip may lie inside it. Refused are only
 * an unknown fat, a day that is none, and numbers that cannot be a saponification value.
 */
export function judgeCertificate(certificate: Certificate): Outcome<CertificateJudgement> {
  const problems = checkCertificate(certificate);
  const fat = fatByKey(certificate.fatKey);
  if (problems.length > 0 || !fat) return refuse(problems);
  const { valueMgKohPerG: value, expandedUncertainty: uncertainty } = certificate;
  const { low, high } = fat.saponificationValue;
  const questions = questionsOf(certificate, fat);
  const inside = `${figure(value)} ± ${figure(uncertainty)} mg/g lies inside the published range of ${fat.name} (${low} to ${high} mg/g).`;
  return succeed({
    verdict: questions.length === 0 ? 'inside' : 'question',
    lowMgKohPerG: value - uncertainty,
    highMgKohPerG: value + uncertainty,
    publishedLowMgKohPerG: low,
    publishedHighMgKohPerG: high,
    questions,
    words: questions.length === 0 ? inside : questions.map((each) => each.detail).join(' '),
  });
}
