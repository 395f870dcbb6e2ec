/** Why what a scanner sent, or a hand typed, is not taken. */
export type LabelProblemCode =
  | 'empty'
  | 'notOurs'
  | 'notInAlphabet'
  | 'keyboardLayout'
  | 'unknownSchema'
  | 'checksum'
  | 'garbled'
  | 'otherShop'
  | 'mixedInFuture'
  | 'tooOld'
