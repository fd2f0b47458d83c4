import type { Fat } from './fats.ts';

/**
 * Published characteristics of fats, one row each:
 * key, name, species, saponification value range (mg KOH/g), iodine value range (g/100 g; null where
 * only one end is published), density range (g/mL), temperature of that density (C), source, provenance.
 *
 * Densities are the published relative densities times the density of water at the reference
 * temperature (0.99820 g/mL at 20 C, 0.99705 at 25 C, 0.99902 at 15.5 C: Kell 1975).
 * READ means the figures were seen in a copy or transcription of the named document; MEMORY means the
 * document is known but was not seen. A supplier's certificate beats both.
 *
 * Left out on purpose: avocado, apricot kernel, hemp, neem and macadamia (no published range found),
 * mango kernel (one sample), beeswax (no density), mid-oleic sunflower (the printed range of 190 to
 * 191 is narrower than any harvest, so it would make a superfat band look better than it is).
 */
export type FatRow = readonly [
  key: string,
  name: string,
  species: string,
  saponificationValue: readonly [low: number, high: number],
  iodineValue: readonly [low: number, high: number] | null,
  densityGPerMl: readonly [low: number, high: number],
  densityTemperatureC: number,
  source: number,
  provenance: Fat['provenance'],
];

const READ = 'read';
const MEMORY = 'from memory';

export const FAT_SOURCES: readonly string[] = [
  'Codex CXS 33-1981 Appendix',
  'Codex CXS 210-1999 Table 2',
  'British Pharmacopoeia 1993, Castor Oil, reprint',
  'USP/NF Almond Oil, as quoted by a supplier',
  'Canada Food and Drug Regulations B.09.013',
  'Codex CXS 211-1999 Table',
  'Knapp, Cocoa and Chocolate (1920)',
  'Saudi SFDA standard for unrefined shea butter (adopts Codex CXS 325R-2017)',
  'CRC Handbook 61st ed., waxes; Merck Index',
  'supplier specification, anhydrous milk fat',
];

// prettier-ignore
export const FAT_ROWS: readonly FatRow[] = [
  ['olive', 'Olive oil', 'Olea europaea L.', [184, 196], [75, 94], [0.9084, 0.9144], 20, 0, MEMORY],
  ['coconut', 'Coconut oil', 'Cocos nucifera L.', [248, 265], [6.3, 10.6], [0.9064, 0.9193], 40, 1, READ],
  ['palm', 'Palm oil', 'Elaeis guineensis Jacq.', [190, 209], [50, 55], [0.8894, 0.8974], 50, 1, READ],
  ['palm_kernel', 'Palm kernel oil', 'Elaeis guineensis Jacq.', [230, 254], [14.1, 21], [0.8974, 0.9124], 40, 1, MEMORY],
  ['palm_olein', 'Palm olein', 'Elaeis guineensis', [194, 202], null, [0.8974, 0.9183], 40, 1, MEMORY],
  ['palm_stearin', 'Palm stearin', 'Elaeis guineensis', [193, 205], null, [0.8794, 0.8894], 60, 1, MEMORY],
  ['palm_superolein', 'Palm superolein', 'Elaeis guineensis', [180, 205], null, [0.8984, 0.9233], 40, 1, MEMORY],
  ['palm_kernel_olein', 'Palm kernel olein', 'Elaeis guineensis', [231, 244], [20, 28], [0.9024, 0.9054], 40, 1, MEMORY],
  ['palm_kernel_stearin', 'Palm kernel stearin', 'Elaeis guineensis', [244, 255], [4, 8.5], [0.9024, 0.9044], 40, 1, MEMORY],
  ['palm_high_oleic', 'Palm oil, higher oleic (OxG)', 'Elaeis oleifera x E. guineensis', [189, 199], [58, 75], [0.8944, 0.9084], 50, 1, READ],
  ['castor', 'Castor oil', 'Ricinus communis L.', [176, 187], [82, 90], [0.9503, 0.9633], 20, 2, READ],
  ['sunflower', 'Sunflower oil', 'Helianthus annuus L.', [187, 194], [118, 141], [0.9144, 0.9213], 20, 1, READ],
  ['sunflower_high_oleic', 'Sunflower oil, high oleic', 'Helianthus annuus L.', [182, 194], [78, 90], [0.9074, 0.9134], 25, 1, READ],
  ['soybean', 'Soya bean oil', 'Glycine max (L.) Merr.', [189, 195], [124, 139], [0.9173, 0.9233], 20, 1, READ],
  ['rapeseed_low_erucic', 'Rapeseed oil, low erucic (canola)', 'Brassica napus, B. rapa, B. juncea', [182, 193], [105, 126], [0.9124, 0.9183], 20, 1, READ],
  ['cottonseed', 'Cottonseed oil', 'Gossypium spp.', [189, 198], [100, 123], [0.9163, 0.9243], 20, 1, READ],
  ['maize', 'Maize (corn) oil', 'Zea mays L.', [187, 195], [103, 135], [0.9153, 0.9233], 20, 1, READ],
  ['peanut', 'Groundnut (peanut) oil', 'Arachis hypogaea L.', [187, 196], [77, 107], [0.9074, 0.9183], 20, 1, MEMORY],
  ['sesame', 'Sesame oil', 'Sesamum indicum L.', [186, 195], [104, 120], [0.9134, 0.9223], 20, 1, READ],
  ['safflower', 'Safflower oil', 'Carthamus tinctorius L.', [186, 198], [136, 148], [0.9203, 0.9253], 20, 1, MEMORY],
  ['safflower_high_oleic', 'Safflower oil, high oleic', 'Carthamus tinctorius L.', [186, 194], [80, 100], [0.9114, 0.9173], 20, 1, READ],
  ['grapeseed', 'Grapeseed oil', 'Vitis vinifera L.', [188, 194], [128, 150], [0.9183, 0.9243], 20, 1, MEMORY],
  ['rice_bran', 'Rice bran oil', 'Oryza sativa L.', [180, 199], [90, 115], [0.9084, 0.9273], 20, 1, READ],
  ['babassu', 'Babassu oil', 'Orbignya spp. (Attalea speciosa)', [245, 256], [10, 18], [0.9124, 0.9153], 25, 1, READ],
  ['hazelnut', 'Hazelnut oil', 'Corylus avellana L.', [188, 197], [81, 95], [0.8964, 0.9134], 20, 1, MEMORY],
  ['walnut', 'Walnut oil', 'Juglans regia L.', [189, 198], [132, 162], [0.9203, 0.9223], 25, 1, READ],
  ['almond', 'Almond oil', 'Prunus dulcis (Amygdalus communis L.)', [190, 200], [95, 105], [0.9073, 0.9123], 25, 3, READ],
  ['flaxseed', 'Flaxseed (linseed) oil', 'Linum usitatissimum L.', [185, 197], [170, 211], [0.9233, 0.9333], 25, 1, READ],
  ['lard', 'Lard', 'Sus scrofa', [192, 203], [45, 70], [0.8924, 0.9044], 40, 4, READ],
  ['tallow', 'Edible tallow', 'Bos taurus / Ovis aries', [190, 202], [40, 53], [0.8924, 0.9024], 40, 5, MEMORY],
  ['cocoa_butter', 'Cocoa butter', 'Theobroma cacao L.', [192, 198], [34, 38], [0.8572, 0.8642], 99, 6, READ],
  ['shea', 'Shea butter, unrefined', 'Vitellaria paradoxa C.F. Gaertn.', [160, 195], [30, 75], [0.8900, 0.9300], 40, 7, READ],
  ['jojoba', 'Jojoba (liquid wax)', 'Simmondsia chinensis', [92.2, 95], [81.7, 88.4], [0.8640, 0.8990], 25, 8, READ],
  ['milk_fat', 'Milk fat (ghee)', 'Bos taurus', [225, 235], [26, 40], [0.9100, 0.9130], 37.8, 9, READ],
];
