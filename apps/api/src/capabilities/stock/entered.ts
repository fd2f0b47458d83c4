import type { FieldFault } from '@ashwater/contracts';
import { formatMass, parseDecimal, parseMass } from '@ashwater/formulation';
import type { DecimalRule } from '@ashwater/formulation';
import { DomainProblem } from '../../problems/domain-problem.ts';

/** The coarsest step a scale here may have: past 1 kg it is no scale for caustic. */
const COARSEST_STEP_MG = 1_000_000;

/** Reads what a form's fields hold and gathers every fault, so that a person sees all of them at once. */
export class EnteredFields {
  readonly faults: FieldFault[] = [];
  private readonly masses: { pointer: string; massMg: number }[] = [];
  private scale: { name: string; capacityMg: number } | undefined;

  fault(pointer: string, detail: string): void {
    this.faults.push({ pointer, detail });
  }

  /** A typed mass in mg, grams unless a unit is typed. 0 stands in for an unreadable one; `refuse` then throws. */
  massMg(text: string, pointer: string): number {
    const read = parseMass(text);
    if (read.ok) {
      this.masses.push({ pointer, massMg: read.value.massMg });
      return read.value.massMg;
    }
    this.fault(pointer, read.problems[0]?.detail ?? 'Not readable as a mass.');
    return 0;
  }

  /** A scale's step in mg, above 0. */
  scaleStepMg(text: string, pointer: string): number {
    const before = this.faults.length;
    const stepMg = this.massMg(text, pointer);
    if (this.faults.length > before || (stepMg > 0 && stepMg <= COARSEST_STEP_MG)) return stepMg;
    this.fault(pointer, 'The scale step is the smallest change the scale shows, such as 1 g or 0.1 g; at most 1 kg.');
    return stepMg;
  }

  decimal(text: string, pointer: string, rule: DecimalRule): number {
    const read = parseDecimal(text, rule);
    if (read.ok) return read.value.value;
    this.fault(pointer, read.problems[0]?.detail ?? 'Not readable as a number.');
    return 0;
  }

  /** The scale that every mass of this form was read from: it cannot have shown more than it bears. */
  weighedOn(scale: { name: string; capacityMg: number }): void {
    this.scale = scale;
  }

  /** Throws what was gathered, if anything. Call it before the first value is used. */
  refuse(): void {
    const { scale } = this;
    if (scale)
      for (const { pointer, massMg } of this.masses)
        if (massMg > scale.capacityMg)
          this.fault(
            pointer,
            `${scale.name} bears ${formatMass(scale.capacityMg)} at most; ${formatMass(massMg)} cannot be read from it. Choose the scale it was weighed on.`,
          );
    if (this.faults.length > 0) throw new DomainProblem('input-refused', this.faults[0]?.detail ?? '', this.faults);
  }
}
