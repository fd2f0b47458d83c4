import { error } from '@sveltejs/kit';
import { Jars } from '@ashwater/contracts';
import type { CardContent, JarOut, LabelOut } from '@ashwater/contracts';
import { COLD_STORAGE_C, coldStorageWarning, labelOfSolution } from '@ashwater/formulation';
import type { AlkaliKind } from '@ashwater/formulation';
import { read } from './api.ts';
import type { Caller } from './api.ts';

export async function jarById(event: Caller, id: string): Promise<JarOut> {
  const { jars } = await read(event, '/api/jars', Jars);
  return jars.find((jar) => jar.id === id) ?? error(404, 'Not found', { detail: 'No jar with this address was found in this studio.' });
}

// The contents name each alkali in full. Contents that name neither are judged as both: never milder.
function alkaliIn(contents: string): AlkaliKind {
  const sodium = /sodium/i.test(contents);
  const potassium = /potassium/i.test(contents);
  if (sodium === potassium) return 'dual';
  return sodium ? 'NaOH' : 'KOH';
}

type OnJar = Pick<JarOut, 'contents' | 'concentrationPercent'>;

/** What the label must say: help from the jar's own concentration; the supplier's safety data sheet comes first. */
export function labelOfJar({ contents, concentrationPercent }: OnJar): { hazard: CardContent['hazard']; label: LabelOut } {
  const kind = alkaliIn(contents);
  const { signalWord, classification, statements, precautions, us, supplierFirst } = labelOfSolution(kind, concentrationPercent);
  return {
    hazard: { signalWord: signalWord ?? '', classification, statements },
    label: {
      precautions,
      us: { signalWord: us.signalWord ?? '', statements: us.statements },
      coldStorage: coldStorageWarning(kind, concentrationPercent, COLD_STORAGE_C),
      supplierFirst,
    },
  };
}
