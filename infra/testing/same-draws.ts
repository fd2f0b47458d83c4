import fc from 'fast-check';

/*
 * For the mutation run. The same draws for every mutant, or luck would decide which survive; no search for the smallest example,
 * which takes long; and no property goes on for longer than this once it has held: thousands of draws find little that the first
 * hundreds do not, and there are thousands of mutants.
 */
fc.configureGlobal({ seed: 20_261_125, endOnFailure: true, interruptAfterTimeLimit: 60, markInterruptAsFailure: false });
