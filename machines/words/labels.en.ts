import type { LabelProblemCode } from '../contract/labelProblem.ts'

/** What is wrong with a label that was read. */
export const labels: Readonly<Record<LabelProblemCode, (...names: readonly string[]) => string>> = {
  empty: () => 'Nothing was read. Scan again or type the id.',
  notOurs: () =>
    'This is not one of our labels. Scan the square code of a cup or panel, or type its id.',
  notInAlphabet: (sign, alphabet) =>
    `Ids have no ${sign}: they are written with ${alphabet}. Look again.`,
  keyboardLayout: (sign, separator) =>
    `The scanner types ${sign} where the label has a ${separator}: its keyboard layout does not match this device's. Set both to the same layout, then scan again.`,
  unknownSchema: (schema, reads) =>
    `This device does not know the version (${schema}) of this label. It reads: ${reads}. Update the device; until then go by the printed words.`,
  checksum: () =>
    'The label was misread: its checksum does not match. Scan again, or type the id printed on it.',
  garbled: () => 'This label has missing or wrong data. Print a new one.',
  otherShop: (theirs, ours) =>
    `This label is from another shop (${theirs}; ours is ${ours}). You see what it says; nothing else is known of it here.`,
  mixedInFuture: (minutes) =>
    `This label says it was mixed ${minutes} min from now. Check the clock of this device and of the one that printed it.`,
  tooOld: (days, most) =>
    `This label says it was mixed ${days} days ago; over ${most} days it is not trusted. Do not spray it.`,
}
