import { checksum, SEPARATOR } from './payload.ts'

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
