import type { PrintTrouble } from '../../machines/contract/printing.ts'
import { type IppMessage, textsIn } from './ippMessage.ts'

/** What a printer's answers mean for whoever waits for a label. */

const STOPPED = 5
const SUCCESS_MOST = 0x00ff
/** Those of the server's errors that no second try helps (RFC 8011 appendix B.1.5). */
const NEVER = [0x0501, 0x0503]
const NOT_ACCEPTING = 0x0506
const BUSY = 0x0507

/** @returns null where the answer says that it was done */
export function statusTrouble(answer: IppMessage): PrintTrouble | null {
  const { code } = answer
  if (code <= SUCCESS_MOST) return null
  const said = textsIn(answer, 'operation', 'status-message')[0]
  const reason = `${said ?? 'no reason given'} (0x${code.toString(16).padStart(4, '0')})`
  if (code === BUSY) return { code: 'busy', params: {} }
  if (code === NOT_ACCEPTING) return { code: 'paused', params: {} }
  if (code >= 0x0500 && !NEVER.includes(code)) return { code: 'stopped', params: { reason } }
  return { code: 'refused', params: { reason } }
}

/** A trouble that another try cannot end, as nothing outside changes it. */
export const isFinal = ({ code }: PrintTrouble): boolean => FINAL.includes(code)
const FINAL: readonly PrintTrouble['code'][] = [
  'refused',
  'noFormat',
  'noResolution',
  'noMedia',
  'tooSmall',
  'unknownPrinter',
  'noPrinter',
  'unknownThing',
  'overtaken',
  'tooLate',
]

/**
 * The keywords of printer-state-reasons (RFC 8011 section 5.4.12), in the order of what to see to first. A
 * warning stops nothing, apart from media-needed: a job waits for it.
 */
const REASONS: readonly (readonly [RegExp, PrintTrouble])[] = [
  [
    /^media-needed|^(media-empty|input-tray-missing)(?!-warning)/,
    { code: 'outOfMedia', params: {} },
  ],
  [/^media-jam(?!-warning)/, { code: 'jam', params: {} }],
  [/^(cover|door|interlock)-open(?!-warning)/, { code: 'open', params: {} }],
  [
    /^(marker-supply-empty|toner-empty|developer-empty)(?!-warning)/,
    { code: 'outOfSupply', params: {} },
  ],
  [/^(paused|moving-to-paused)/, { code: 'paused', params: {} }],
]

/**
 * @param reasons of the printer or of a job; what only warns says nothing here
 * @param state the printer's, 5 where it stands still
 */
export function stoppedBy(reasons: readonly string[], state: number | null): PrintTrouble | null {
  for (const [form, trouble] of REASONS) {
    if (reasons.some((reason) => form.test(reason))) return trouble
  }
  if (state !== STOPPED) return null
  const other = reasons.filter((reason) => reason !== 'none')
  return { code: 'stopped', params: { reason: other.join(', ') || 'stopped' } }
}
