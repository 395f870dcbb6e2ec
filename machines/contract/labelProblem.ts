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

/** GET /api/scan of a text that is not taken, before it is put into words. */
export type LabelProblem = {
  readonly code: LabelProblemCode
  readonly field: 'text'
  /** `names`: what the sentence names, in its order. */
  readonly params: { readonly given: string; readonly names: readonly string[] }
}
