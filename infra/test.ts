import { say } from './start/say.ts';
import { lastLine } from './testing/counts.ts';
import type { Counts } from './testing/counts.ts';
import { STAGES } from './testing/stages.ts';
import type { Stage } from './testing/stages.ts';

function chosenStages(names: string[]): Stage[] {
  const unknown = names.filter((name) => !STAGES.some((stage) => stage.name === name));
  if (unknown.length > 0) throw new Error(`There is no stage "${unknown.join('", "')}". Stages: ${STAGES.map((stage) => stage.name).join(', ')}.`);
  return names.length === 0 ? STAGES : STAGES.filter((stage) => names.includes(stage.name));
}

async function runStage(stage: Stage): Promise<Counts> {
  say(`\n== ${stage.name}: ${stage.what}`);
  try {
    return await stage.run();
  } catch (error) {
    say(error instanceof Error ? error.message : String(error));
    return { passed: 0, failed: 1, note: 'could not run' };
  }
}

try {
  const stages = chosenStages(process.argv.slice(2));
  const results: { stage: Stage; counts: Counts; seconds: string }[] = [];
  for (const stage of stages) {
    const startedAt = Date.now();
    const counts = await runStage(stage);
    results.push({ stage, counts, seconds: ((Date.now() - startedAt) / 1000).toFixed(1) });
  }
  for (const { stage, counts } of results) for (const failure of counts.failures ?? []) say(`\n${stage.name} FAILED  ${failure}`);
  say('');
  for (const { stage, counts, seconds } of results) {
    const note = counts.note === undefined ? '' : `  (${counts.note})`;
    say(`${stage.name.padEnd(14)} ${String(counts.passed).padStart(5)} passed ${String(counts.failed).padStart(4)} failed ${seconds.padStart(8)} s${note}`);
  }
  say(lastLine(results.map((result) => result.counts)));
  process.exitCode = results.some((result) => result.counts.failed > 0) ? 1 : 0;
} catch (error) {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = 2;
}
