import { checksum, SEPARATOR } from './seal.ts'

/**
 * Printed codes that replace a touch, so that a whole job can be done with a scanner. They name no
 * shop and no thing: each one applies to whatever was scanned before it.
 *
 *   K1-COATEND-A7
 */
export const COMMAND_SCHEMA = 'K1'

export const PRINTED_COMMANDS = [
  'PREPDONE',
  'COATSTART',
  'COATEND',
  'MATT',
  'NOTYET',
  'COVERED',
  'ONEMORE',
  'BAKESTART',
  'ATTEMP',
  'BAKEEND',
  'PASS',
  'CUPEMPTY',
  'PAUSE',
  'RESUME',
  'ACK',
  'UNDO',
] as const
export type PrintedCommand = (typeof PRINTED_COMMANDS)[number]

export const isPrintedCommand = (name: string): name is PrintedCommand =>
  PRINTED_COMMANDS.some((known) => known === name)

/** The text of a command's code. */
export function encodeCommandCode(name: PrintedCommand): string {
  const text = [COMMAND_SCHEMA, name, ''].join(SEPARATOR)
  return text + checksum(text)
}

/** Reads a printed command code back. Nothing is guessed: what is not whole is not done. */

type CodeProblem = 'checksum' | 'keyboardLayout' | 'unknownVersion' | 'unknownCommand'

type ReadCommand =
  | { readonly kind: 'command'; readonly command: PrintedCommand }
  /** `said`: the sign, version or name that is not known. */
  | { readonly kind: 'problem'; readonly code: CodeProblem; readonly said: string }

const CODE = /^(?<schema>K[0-9]{1,2})-(?<name>.*)-(?<seal>[^-]*)$/
/** The same shape with one other sign where the separators would be. */
const SLIPPED = /^K[0-9](?<sign>[^A-Z0-9\s-])[A-Z]+\k<sign>[A-Z0-9]{2}$/iu

/** @returns null for a text that is not a command code */
export function readCommandCode(text: string): ReadCommand | null {
  const raw = text.trim()
  const slip = SLIPPED.exec(raw)?.groups?.sign
  if (slip) return unread('keyboardLayout', slip)
  const { schema, name, seal } = CODE.exec(raw.toUpperCase())?.groups ?? {}
  if (schema === undefined || name === undefined) return null
  if (schema !== COMMAND_SCHEMA) return unread('unknownVersion', schema)
  if (checksum(`${schema}-${name}-`) !== seal) return unread('checksum', name)
  return isPrintedCommand(name)
    ? { kind: 'command', command: name }
    : unread('unknownCommand', name)
}

const unread = (code: CodeProblem, said: string): ReadCommand => ({ kind: 'problem', code, said })
