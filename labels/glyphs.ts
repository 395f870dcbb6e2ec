/**
 * How much room the letters of the label font take (Roboto Condensed, bold), so that a layout can be
 * calculated without the font: in the kiosk, and before anything is drawn. Units are those of the font,
 * in which a capital is CAP_UNITS high. The tests compare every figure with the font itself.
 */
export const CAP_UNITS = 1456

const ADVANCES: readonly (readonly [number, string])[] = [
  [331, "'"],
  [460, '’'],
  [468, '‘'],
  [472, ' '],
  [501, ','],
  [518, '|'],
  [519, ';'],
  [534, '!'],
  [540, '[]'],
  [553, 'I'],
  [555, '¡'],
  [559, ':'],
  [582, '·'],
  [595, '.'],
  [611, '{}'],
  [657, '"'],
  [662, '('],
  [663, ')'],
  [680, '/'],
  [737, '•'],
  [739, '-'],
  [780, '\\'],
  [790, '“'],
  [796, '°'],
  [797, '”'],
  [819, '_'],
  [914, '¿'],
  [915, '<'],
  [916, '?'],
  [929, '*'],
  [930, '>'],
  [967, '±'],
  [960, '×'],
  [974, '+'],
  [975, 'F'],
  [980, 'L'],
  [1004, 'J'],
  [1005, 'E'],
  [1012, 'Ł'],
  [1030, '='],
  [1035, '$0123456789€'],
  [1081, '#'],
  [1086, 'Z'],
  [1091, 'Þ'],
  [1105, 'S'],
  [1111, 'TY'],
  [1122, '–'],
  [1131, '§'],
  [1133, 'KR'],
  [1143, '~'],
  [1146, 'X'],
  [1149, 'B'],
  [1157, 'D'],
  [1164, 'P'],
  [1167, 'C'],
  [1169, 'U'],
  [1183, 'V'],
  [1185, '&'],
  [1187, 'ÐĐ'],
  [1199, 'G'],
  [1223, 'A'],
  [1233, 'Ø'],
  [1236, 'OQ'],
  [1248, 'Ŋ'],
  [1254, 'N'],
  [1257, 'H'],
  [1292, 'Ħ'],
  [1307, '%'],
  [1353, '—'],
  [1354, '…'],
  [1519, 'm'],
  [1535, 'W'],
  [1553, 'M'],
  [1569, '@'],
  [1675, 'Æ'],
  [1723, 'Œ'],
]

const ADVANCE = new Map(ADVANCES.flatMap(([units, signs]) => [...signs].map((s) => [s, units])))

/** Ink above the capitals' height and below the line, as parts of that height. */
const RISES: readonly (readonly [number, string])[] = [
  [1.05, 'Ø'],
  [1.17, '"\'$()[]{}‘’“”'],
]
const DROPS: readonly (readonly [number, string])[] = [
  [0.11, '/\\Ø'],
  [0.2, '$Q_|'],
  [0.28, ',;[]{}¡¿'],
  [0.33, '()@§Ŋ'],
]
/** Round letters go a little beyond both lines. */
const OVERSHOOT = 0.02
const ACCENT_RISE = 1.34
const ACCENT_DROP = 0.37
/** Cedilla, ogonek and comma below hang; every other accent of these letters stands above. */
const HANGING = /[\u0326-\u0328]/

/** Accented Latin capitals the font has: Latin-1, Latin Extended-A, and two Romanian letters. */
const isAccented = (sign: string) =>
  /^[\u00c0-\u017fȘȚ]$/.test(sign) && sign.normalize('NFD').length === 2

/** An accent changes a letter's width by less than a tenth of a dot at the sizes of a label. */
const unitsOf = (sign: string): number | undefined =>
  ADVANCE.get(sign) ?? (isAccented(sign) ? ADVANCE.get(sign.normalize('NFD').charAt(0)) : undefined)

/** True where the label font has the sign. */
export const isDrawable = (sign: string): boolean => unitsOf(sign) !== undefined

/** Every sign that can be drawn, accented ones apart. */
export const PLAIN_SIGNS: readonly string[] = [...ADVANCE.keys()]

/**
 * How far the pen moves for a sign, in whole dots: every "5" of a line then falls on the dots in
 * the same way and looks the same.
 * @param capDots the height of capitals
 */
export const advanceDots = (sign: string, capDots: number): number =>
  Math.round(((unitsOf(sign) ?? 0) * capDots) / CAP_UNITS)

const partOf = (groups: typeof RISES, sign: string): number =>
  groups.find(([, signs]) => signs.includes(sign))?.[0] ?? 0

function riseOf(sign: string): number {
  if (!isAccented(sign)) return Math.max(1 + OVERSHOOT, partOf(RISES, sign))
  return HANGING.test(sign.normalize('NFD')) ? 1 + OVERSHOOT : ACCENT_RISE
}

function dropOf(sign: string): number {
  if (!isAccented(sign)) return Math.max(OVERSHOOT, partOf(DROPS, sign))
  return HANGING.test(sign.normalize('NFD')) ? ACCENT_DROP : OVERSHOOT
}

/** Dots that the ink of a text may need above and below its base line. */
export function inkDots(text: string, capDots: number): { above: number; below: number } {
  const signs = [...text]
  return {
    above: Math.ceil(capDots * Math.max(0, ...signs.map(riseOf))),
    below: Math.ceil(capDots * Math.max(0, ...signs.map(dropOf))),
  }
}
