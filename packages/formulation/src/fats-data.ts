import type { Fat } from './fats.ts';

/**
 * Published characteristics of fats, one row each:
 * key, name, species, saponification value range (mg KOH/g), iodine value range (g/100 g; an end is
 * null where a standard sets only the other), density range (g/mL), temperature of that density (C),
 * most unsaponifiable matter (g/kg; null where none is published), source, provenance.
 *
 * Densities are the published relative densities times the density of water at the reference
 * temperature (0.99820 g/mL at 20 C, 0.99705 at 25 C, 0.99902 at 15.5 C, 0.99565 at 30 C: Kell 1975).
 * READ means the figures were seen in a copy or transcription of the named document; MEMORY means the
 * document is known but was not seen, for at least one end of the saponification value. Where two
 * documents differ the wider range stands, because the superfat band is a worst case. A supplier's
 * certificate beats both.
 *
 * Left out on purpose: wool wax (British Pharmaceutical Codex 1911: "practically impossible to
 * saponify" in water, so alkali counted for it would stay free).
 */
export type FatRow = readonly [
  key: string,
  name: string,
  species: string,
  saponificationValue: readonly [low: number, high: number],
  iodineValue: readonly [low: number | null, high: number | null] | null,
  densityGPerMl: readonly [low: number, high: number],
  densityTemperatureC: number,
  unsaponifiableMaxGPerKg: number | null,
  source: number,
  provenance: Fat['provenance'],
];

const READ = 'read';
const MEMORY = 'from memory';

export const FAT_SOURCES: readonly string[] = [
  'Codex CXS 33-1981 Appendix',
  'Codex CXS 210-1999 Table 2',
  'British Pharmacopoeia 1993, Castor Oil, reprint',
  'USP/NF Almond Oil (190 to 200) and BP Almond Oil (185 to 200), as quoted by suppliers',
  'Canada Food and Drug Regulations B.09.013',
  'Codex CXS 211-1999 Table',
  'Knapp, Cocoa and Chocolate (1920): 192 to 198; the wider older USP/NF range from memory',
  'Saudi SFDA standard for unrefined shea butter (adopts Codex CXS 325R-2017)',
  'CRC Handbook 61st ed., waxes; Merck Index',
  'supplier specification, anhydrous milk fat: 225 to 235; the low end of handbooks from memory',
  'sunflower oils of Codex CXS 210-1999 Table 2, high linoleic to high oleic',
  'Malaysia Food Regulations 1985, reg. 181',
  'Muchiri et al., J. Am. Oil Chem. Soc. 89 (2012) 1567, four varieties; Fahimdanesh & Bahrami (2013), one sample',
  'CAMEO database, Museum of Fine Arts, Boston; density from memory',
  'supplier specification, apricot kernel oil',
  'Jamieson, Vegetable Fats and Oils (1943); hempseed oils of Guangxi, Cereals and Oils 25(1) (2017) 24',
  'Indian Standard IS 4765:1975, Neem Kernel Oil',
  'Japanese Standards of Quasi-drug Ingredients, Macadamia Nut Oil; density from a supplier',
  'BP/Ph. Eur. Beeswax, white, reprint; density from the British Pharmaceutical Codex 1911',
];

/** What a person should know before trusting a row; most rows need no word. */
export const FAT_CAUTIONS: Readonly<Record<string, string>> = {
  sunflower_mid_oleic: 'The standard prints 190 to 191, narrower than any harvest; the range of its two neighbours is used instead.',
  mango_butter: 'Five samples of two studies, not a standard; mango fat with an iodine value from 32 to 60 is traded.',
  avocado: 'Lots vary: three samples of one study (Indriyani et al. 2016) gave 153, 193 and 198; ask for a certificate.',
  apricot_kernel: 'One supplier sheet, not a standard; ask for a certificate.',
  hemp: 'A handbook and one study, not a standard; ask for a certificate.',
  neem: 'The standard was not seen; ask for a certificate.',
  macadamia: 'No document of it was read; ask for a certificate.',
  milk_fat: 'Varies with feed and season; ask for a certificate.',
  shea: 'Up to 19 % of unrefined shea does not saponify at all; ask for a certificate.',
  jojoba: 'A wax ester without glycerol: most of it may stay unsaponified without long heating.',
  beeswax: 'Only its free acids (acid value 17 to 24) react at once; its esters need hours of boiling in alcohol to be measured.',
};

// prettier-ignore
export const FAT_ROWS: readonly FatRow[] = [
  ['olive', 'Olive oil', 'Olea europaea L.', [184, 196], [75, 94], [0.9084, 0.9144], 20, 15, 0, MEMORY],
  ['coconut', 'Coconut oil', 'Cocos nucifera L.', [248, 265], [6.3, 10.6], [0.9064, 0.9193], 40, 15, 1, READ],
  ['palm', 'Palm oil', 'Elaeis guineensis Jacq.', [190, 209], [50, 55], [0.8894, 0.8974], 50, 12, 1, READ],
  ['palm_kernel', 'Palm kernel oil', 'Elaeis guineensis Jacq.', [230, 254], [14.1, 21], [0.8974, 0.9124], 40, 10, 1, MEMORY],
  ['palm_olein', 'Palm olein', 'Elaeis guineensis', [194, 202], [56, null], [0.8974, 0.9183], 40, 13, 1, MEMORY],
  ['palm_stearin', 'Palm stearin', 'Elaeis guineensis', [193, 205], [null, 48], [0.8794, 0.8894], 60, 9, 1, MEMORY],
  ['palm_superolein', 'Palm superolein', 'Elaeis guineensis', [180, 205], [60, null], [0.8984, 0.9233], 40, 13, 1, MEMORY],
  ['palm_kernel_olein', 'Palm kernel olein', 'Elaeis guineensis', [231, 244], [20, 28], [0.9024, 0.9054], 40, 15, 1, MEMORY],
  ['palm_kernel_stearin', 'Palm kernel stearin', 'Elaeis guineensis', [244, 255], [4, 8.5], [0.9024, 0.9044], 40, 15, 1, MEMORY],
  ['palm_high_oleic', 'Palm oil, higher oleic (OxG)', 'Elaeis oleifera x E. guineensis', [189, 199], [58, 75], [0.8944, 0.9084], 50, 12, 1, READ],
  ['castor', 'Castor oil', 'Ricinus communis L.', [176, 187], [82, 90], [0.9503, 0.9633], 20, 8, 2, READ],
  ['sunflower', 'Sunflower oil', 'Helianthus annuus L.', [187, 194], [118, 141], [0.9144, 0.9213], 20, 15, 1, READ],
  ['sunflower_high_oleic', 'Sunflower oil, high oleic', 'Helianthus annuus L.', [182, 194], [78, 90], [0.9074, 0.9134], 25, 15, 1, READ],
  ['soybean', 'Soya bean oil', 'Glycine max (L.) Merr.', [189, 195], [124, 139], [0.9173, 0.9233], 20, 15, 1, READ],
  ['rapeseed_low_erucic', 'Rapeseed oil, low erucic (canola)', 'Brassica napus, B. rapa, B. juncea', [182, 193], [105, 126], [0.9124, 0.9183], 20, 20, 1, READ],
  ['cottonseed', 'Cottonseed oil', 'Gossypium spp.', [189, 198], [100, 123], [0.9163, 0.9243], 20, 15, 1, READ],
  ['maize', 'Maize (corn) oil', 'Zea mays L.', [187, 195], [103, 135], [0.9153, 0.9233], 20, 28, 1, READ],
  ['peanut', 'Groundnut (peanut) oil', 'Arachis hypogaea L.', [187, 196], [77, 107], [0.9074, 0.9183], 20, 10, 1, MEMORY],
  ['sesame', 'Sesame oil', 'Sesamum indicum L.', [186, 195], [104, 120], [0.9134, 0.9223], 20, 20, 1, READ],
  ['safflower', 'Safflower oil', 'Carthamus tinctorius L.', [186, 198], [136, 148], [0.9203, 0.9253], 20, 15, 1, MEMORY],
  ['safflower_high_oleic', 'Safflower oil, high oleic', 'Carthamus tinctorius L.', [186, 194], [80, 100], [0.9114, 0.9173], 20, 10, 1, READ],
  ['grapeseed', 'Grapeseed oil', 'Vitis vinifera L.', [188, 194], [128, 150], [0.9183, 0.9243], 20, 20, 1, MEMORY],
  ['rice_bran', 'Rice bran oil', 'Oryza sativa L.', [180, 199], [90, 115], [0.9084, 0.9273], 20, 65, 1, READ],
  ['babassu', 'Babassu oil', 'Orbignya spp. (Attalea speciosa)', [245, 256], [10, 18], [0.9124, 0.9153], 25, 12, 1, READ],
  ['hazelnut', 'Hazelnut oil', 'Corylus avellana L.', [188, 197], [81, 95], [0.8964, 0.9134], 20, 15, 1, MEMORY],
  ['walnut', 'Walnut oil', 'Juglans regia L.', [189, 198], [132, 162], [0.9203, 0.9223], 25, 20, 1, READ],
  ['almond', 'Almond oil', 'Prunus dulcis (Amygdalus communis L.)', [185, 200], [95, 110], [0.9073, 0.9123], 25, 9, 3, READ],
  ['flaxseed', 'Flaxseed (linseed) oil', 'Linum usitatissimum L.', [185, 197], [170, 211], [0.9233, 0.9333], 25, 20, 1, READ],
  ['lard', 'Lard', 'Sus scrofa', [192, 203], [45, 70], [0.8924, 0.9044], 40, 12, 4, READ],
  ['tallow', 'Edible tallow', 'Bos taurus / Ovis aries', [190, 202], [40, 53], [0.8924, 0.9024], 40, 12, 5, MEMORY],
  ['cocoa_butter', 'Cocoa butter', 'Theobroma cacao L.', [188, 198], [33, 42], [0.8572, 0.8642], 99, 8, 6, MEMORY],
  ['shea', 'Shea butter, unrefined', 'Vitellaria paradoxa C.F. Gaertn.', [160, 195], [30, 75], [0.8900, 0.9300], 40, 190, 7, READ],
  ['jojoba', 'Jojoba (liquid wax)', 'Simmondsia chinensis', [92.2, 95], [81.7, 88.4], [0.8640, 0.8990], 25, null, 8, READ],
  ['milk_fat', 'Milk fat (ghee)', 'Bos taurus', [218, 235], [26, 40], [0.9100, 0.9130], 37.8, null, 9, MEMORY],
  ['sunflower_mid_oleic', 'Sunflower oil, mid oleic', 'Helianthus annuus L.', [182, 194], [94, 122], [0.9124, 0.9143], 20, 15, 10, MEMORY],
  ['rapeseed_high_erucic', 'Rapeseed oil, high erucic', 'Brassica napus, B. rapa, B. juncea', [168, 181], [94, 120], [0.9084, 0.9183], 20, 20, 1, MEMORY],
  ['mustardseed', 'Mustardseed oil', 'Sinapis alba, Brassica juncea, B. nigra', [168, 184], [92, 125], [0.9084, 0.9193], 20, 15, 1, MEMORY],
  ['suet', 'Suet (premier jus)', 'Bos taurus / Ovis aries', [190, 200], [32, 47], [0.8914, 0.8964], 40, 10, 11, READ],
  ['mango_butter', 'Mango kernel fat (mango butter)', 'Mangifera indica L.', [188.8, 195.9], [51, 57], [0.8984, 0.9071], 40, 29, 12, READ],
  ['avocado', 'Avocado oil', 'Persea americana Mill.', [177, 198], [71, 95], [0.9073, 0.9133], 25, null, 13, READ],
  ['apricot_kernel', 'Apricot kernel oil', 'Prunus armeniaca L.', [185, 195], null, [0.9084, 0.9183], 20, null, 14, READ],
  ['hemp', 'Hempseed oil', 'Cannabis sativa L.', [189.9, 197], [150, 168.2], [0.9213, 0.9244], 20, 13, 15, READ],
  ['neem', 'Neem oil', 'Azadirachta indica A. Juss.', [180, 205], [65, 80], [0.9041, 0.9299], 30, 20, 16, MEMORY],
  ['macadamia', 'Macadamia oil', 'Macadamia integrifolia / M. tetraphylla', [190, 200], [70, 80], [0.9074, 0.9133], 20, null, 17, MEMORY],
  ['beeswax', 'Beeswax, white', 'Apis mellifera', [87, 104], null, [0.9472, 0.9572], 25, null, 18, READ],
];
