import type { ActionFailure } from '@sveltejs/kit';
import { parseMass } from '@ashwater/formulation/quantity';
import type { FormState } from '../forms/form-state.ts';
import { refuse, text } from './forms.ts';

/** Faults found before the API is asked, by field name, in the order of the form. */
export class Faults {
  readonly found: { pointer: string; detail: string }[] = [];

  add(name: string, detail: string): void {
    this.found.push({ pointer: `/${name}`, detail });
  }

  /** A typed mass in mg; null, and a fault, where it cannot be read. `blank` says what to write where nothing is. */
  massMg(data: FormData, name: string, blank: string): number | null {
    const typed = text(data, name);
    if (typed.trim() === '') {
      this.add(name, blank);
      return null;
    }
    const read = parseMass(typed);
    if (read.ok) return read.value.massMg;
    this.add(name, read.problems[0]?.detail ?? 'Write a mass in grams.');
    return null;
  }

  /** A scale's step in mg, above 0. */
  stepMg(data: FormData, name: string): number | null {
    const stepMg = this.massMg(data, name, 'Write the scale step, such as 1 g: the smallest change the scale shows.');
    if (stepMg === 0) this.add(name, 'The scale step is the smallest change the scale shows, such as 1 g or 0.1 g.');
    return stepMg;
  }

  /** Puts the faults in the order of the form's fields; the summary reads from top to bottom. */
  sortBy(names: readonly string[]): void {
    const place = (pointer: string) => names.indexOf(pointer.slice(1));
    this.found.sort((a, b) => place(a.pointer) - place(b.pointer));
  }

  refuse(data: FormData): ActionFailure<FormState> {
    const detail = this.found[0]?.detail ?? '';
    return refuse(
      {
        ok: false,
        unsure: false,
        problem: { code: 'input-refused', title: 'Something in the form needs another look', detail, status: 422, errors: this.found },
      },
      data,
    );
  }
}
