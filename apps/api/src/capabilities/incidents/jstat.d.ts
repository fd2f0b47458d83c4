/** The one function of jstat that is used here; the package brings no types of its own. */
declare module 'jstat' {
  const jstat: { jStat: { chisquare: { inv(p: number, degreesOfFreedom: number): number } } };
  export default jstat;
}
