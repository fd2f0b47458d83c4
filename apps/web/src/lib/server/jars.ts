import { error } from '@sveltejs/kit';
import { Jars } from '@ashwater/contracts';
import type { CardContent, JarOut } from '@ashwater/contracts';
import { hazardOfSolution } from '@ashwater/formulation';
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

/** What the label must say: help from the concentration; the supplier's safety data sheet comes first. */
export function hazardOfJar(jar: JarOut): CardContent['hazard'] {
  const { signalWord, classification, statements } = hazardOfSolution(alkaliIn(jar.contents), jar.concentrationPercent);
  return { signalWord: signalWord ?? '', classification, statements };
}
