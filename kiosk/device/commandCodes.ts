import {
  COMMAND_SCHEMA,
  checksum,
  isPrintedCommand,
  type PrintedCommand,
} from '../../labels/code.ts'

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
  if (slip) return problem('keyboardLayout', slip)
  const { schema, name, seal } = CODE.exec(raw.toUpperCase())?.groups ?? {}
  if (schema === undefined || name === undefined) return null
  if (schema !== COMMAND_SCHEMA) return problem('unknownVersion', schema)
  if (checksum(`${schema}-${name}-`) !== seal) return problem('checksum', name)
  return isPrintedCommand(name)
    ? { kind: 'command', command: name }
    : problem('unknownCommand', name)
}

const problem = (code: CodeProblem, said: string): ReadCommand => ({ kind: 'problem', code, said })
