/** What a finger presses, and how fast one press may follow another. The tests press by it too. */

export const CONTROLS = 'button, a, summary, input[type="checkbox"], input[type="radio"]'
/** Where quick repeats are meant: keypads, and plus and minus. */
export const REPEATED = '.amount, .keypad, [data-repeat]'
/** Two presses of one control within this time are one. */
export const REPEAT_MS = 400
