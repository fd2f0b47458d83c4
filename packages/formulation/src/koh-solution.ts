/**
 * Density and specific heat of aqueous potassium hydroxide after Laliberte, "A model for calculating
 * the heat capacity of aqueous solutions, with updated density and viscosity data", J. Chem. Eng.
 * Data 54 (2009) 1725-1760. x is the mass fraction of KOH, t the temperature in C.
 */

/** Density of water, g/mL, 0 to 100 C: Kell, J. Chem. Eng. Data 20 (1975) 97. */
export function waterDensity(t: number): number {
  const above = 999.83952 + t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - t * 280.54253e-12))));
  return above / (1 + 16.87985e-3 * t) / 1000;
}

/** Density of the solution, g/mL; the apparent density of the solute, then additive volumes. */
export function kohSolutionDensity(x: number, t: number): number {
  const apparent =
    ((821.119043254761 * x + 1043.20173374381) * Math.exp(1e-6 * (t + 539.630388368877) ** 2)) / (x + 0.112873330222752 + 0.00124023636407386 * t) / 1000;
  return 1 / ((1 - x) / waterDensity(t) + x / apparent);
}

/**
 * Apparent specific heat of the dissolved KOH, kJ/(kg K): what one kg adds to the heat capacity of
 * the water. It is negative in thin solutions, where hydroxide stiffens the water around it. The fit
 * turns wild above its data, so t is held at 80 C from there on.
 */
export function kohApparentHeatCapacity(x: number, t: number): number {
  const held = Math.min(t, 80);
  const exponent = -0.0454225316920391 * held + 1.87598005977999 * Math.exp(0.01 * held) - 5.62731016809735 * x;
  return -0.612709529812129 * Math.exp(exponent) + 2.42547035549534 * x ** 1.24500822569176;
}
