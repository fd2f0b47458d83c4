import { polynomial, whereRisingReaches } from './polynomial.ts';

/**
 * Properties of aqueous sodium hydroxide after Olsson, Jernqvist & Aly, "Thermophysical properties
 * of aqueous NaOH-H2O solutions at high concentrations", Int. J. Thermophysics 18 (1997) 779-793.
 *
 * x is the mass fraction of NaOH in the solution, t the temperature in C. Used here for
 * 0 <= x <= 0.6 and 0 <= t <= 160. Against handbook densities it is within 0.2 % from 20 C up; as
 * x goes to 0 its enthalpy of water is 3.5 kJ/kg low at 0 C (0.8 C in temperature) and within
 * 1 kJ/kg from 20 to 100 C.
 */

const C1_ABOVE = [1288.4485, -4387.8908, 4938.2298, -1841.189];
const C1_BELOW = [1, -0.49649131, -4.0915144, 7.2887292, -3.0202651];
// prettier-ignore
const H_L = [2.3087919, -9.0004252, 167.59914, -1051.6368, 3394.3378, -6115.0986, 6220.8249, -3348.8098, 743.87432];
// prettier-ignore
const H_M = [0.0230286, -0.37866056, 2.4529593, -8.2693542, 15.728833, -16.944427, 9.6254192, -2.2410628];
// prettier-ignore
const H_N = [-8.5131313, 136.52823, -875.68741, 2920.0398, -5488.2983, 5841.8034, -3278.7483, 754.45993];

/** Specific enthalpy of the solution, kJ per kg solution; liquid water at 0 C is the zero. */
export function naohSolutionEnthalpy(x: number, t: number): number {
  const w = 1 - x;
  const mixing = polynomial(C1_ABOVE, w) / polynomial(C1_BELOW, w);
  return mixing + t * (polynomial(H_L, w) + t * (polynomial(H_M, w) + t * 1e-5 * polynomial(H_N, w)));
}

// prettier-ignore
const D_K = [5007.2279636, -25131.164248, 74107.692582, -104657.48684, 69821.773186, -18145.91181];
// prettier-ignore
const D_L = [-64.786269079, 525.34360564, -1608.4471903, 2350.9753235, -1660.9035108, 457.6437435];
// prettier-ignore
const D_M = [0.24436776978, -1.9737722344, 6.04601497138, -8.9090614947, 6.37146769397, -1.7816083111];

/** Density of the solution, g/mL. */
export function naohSolutionDensity(x: number, t: number): number {
  const root = Math.sqrt(1 - x);
  return (polynomial(D_K, root) + t * (polynomial(D_L, root) + t * polynomial(D_M, root))) / 1000;
}

// prettier-ignore
const P_K = [-113.93947, 209.82305, 494.77153, 6860.833, 2676.6433, -21740.328, -34750.872, -20122.157, -4102.989];
// prettier-ignore
const P_L = [16.240074, -11.864008, -223.47305, -1650.3997, -5997.3118, -12318.744, -15303.153, -11707.48, -5364.9554, -1338.5412, -137.96889];
// prettier-ignore
const P_M = [-226.80157, 293.17155, 5081.8791, 36752.126, 131262, 259399.54, 301696.22, 208617.9, 81774.024, 15648.526, 906.29769];

/** Pressure of water vapour over the solution, kPa; at x = 0 that of water. */
export function vapourPressureKPa(x: number, t: number): number {
  const logW = Math.log(1 - x);
  return Math.exp((polynomial(P_K, logW) + polynomial(P_L, logW) * t) / (t - polynomial(P_M, logW)));
}

/** Normal atmosphere: studios high up boil sooner, about 1 C for every 300 m. */
export const ATMOSPHERE_KPA = 101.325;

/** Temperature at which the solution boils at one atmosphere, C. */
export function naohBoilingPointC(x: number): number {
  return whereRisingReaches((t) => vapourPressureKPa(x, t), ATMOSPHERE_KPA, 60, 220);
}
