/** What the printed codes that replace a touch are called, by the name in the code. */
export const codes = {
  PREPDONE: 'PREP DONE',
  COATSTART: 'COAT START',
  COATEND: 'COAT END',
  MATT: 'MATTE',
  NOTYET: 'NOT YET',
  COVERED: 'COVERED',
  ONEMORE: 'ONE MORE',
  BAKESTART: 'BAKE START',
  ATTEMP: 'AT TEMPERATURE',
  BAKEEND: 'BAKE END',
  PASS: 'PASS',
  CUPEMPTY: 'CUP EMPTY',
  PAUSE: 'PAUSE',
  RESUME: 'RESUME',
  ACK: 'BELL OK',
  UNDO: 'UNDO',
}
