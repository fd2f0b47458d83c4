import { existsSync, readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { cruise } from 'dependency-cruiser';
import type { ICruiseResult, IConfiguration } from 'dependency-cruiser';
import { describe, expect, test } from 'vitest';

const load = createRequire(import.meta.url);
const config = load('../../.dependency-cruiser.cjs') as IConfiguration;
const fixtures = join(import.meta.dirname, 'fixtures');
const ruleNames = (config.forbidden ?? []).map((rule) => rule.name ?? '(unnamed)');

/** Names of the rules that a folder breaks, each once. */
async function brokenRules(folder: string): Promise<string[]> {
  const { tsConfig: _, ...options } = config.options ?? {};
  const { output } = await cruise(['.'], { ...options, ruleSet: config, validate: true, baseDir: join(fixtures, folder) });
  return [...new Set((output as ICruiseResult).summary.violations.map((violation) => violation.rule.name))].sort();
}

describe('every architecture rule', () => {
  test.each(ruleNames)('%s is broken by its fixture, and by nothing else in it', async (rule) => {
    expect(existsSync(join(fixtures, rule))).toBe(true);
    expect(await brokenRules(rule)).toEqual([rule]);
  });

  test('leaves sound code alone', async () => {
    expect(await brokenRules('sound')).toEqual([]);
  });

  test('has a fixture, and every fixture a rule', () => {
    expect(
      readdirSync(fixtures)
        .filter((name) => name !== 'sound')
        .sort(),
    ).toEqual([...ruleNames].sort());
  });
});
