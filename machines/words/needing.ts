import type { Needing } from '../refusalParams.ts'
import type { Figures } from './types.ts'

/**
 * An entry as a person finds it in the history: when, what, and of which panel, else of which cup. Pure.
 * @param events what entries are called
 */
export function needingText(
  { type, at, stage, panel, name, cup }: Needing,
  events: Readonly<Record<string, string>>,
  cupWord: string,
  f: Figures,
): string {
  const what = events[type] ?? type
  const ofCup = cup === undefined ? '' : `, ${cupWord} ${cup}`
  return [
    `${f.instant(at)} ${what}`,
    stage === undefined ? '' : ` · ${f.name(stage)}`,
    panel === undefined ? ofCup : `, ${f.panel(panel, name)}`,
  ].join('')
}
