/** Writes sums in the studio's currency. `minor` is in the currency's smallest unit, of which not every currency has a hundred. */
export function moneyIn(currency: string): (minor: number) => string {
  const format = new Intl.NumberFormat('en', { style: 'currency', currency });
  const unit = 10 ** (format.resolvedOptions().maximumFractionDigits ?? 2);
  return (minor) => format.format(minor / unit);
}
