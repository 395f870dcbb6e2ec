import { type ReadonlySignal, type Signal, useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { printerFor } from '../../labels/layout.ts'
import type {
  PrintAsk,
  Printer,
  PrintingAnswer,
  PrintingSettings,
  PrintJob,
  PrintKind,
} from '../../machines/contract/printing.ts'
import { commandId } from '../commands/send.ts'
import { useOutbox, useShop } from '../commands/shop.ts'
import { type PrintError, print, printing, setPrinting, type Told } from './printers.ts'

/** The shop's printers as a screen follows them: how they stand, what waits for them, and a way to print. */
export type Printings = {
  /** As the server said last; null until it has. */
  readonly answer: ReadonlySignal<PrintingAnswer | null>
  /** Why there is no newer answer; `none`: a practice shop prints nothing. */
  readonly missing: ReadonlySignal<'away' | 'none' | null>
  /** What was last asked for and not done. */
  readonly error: Signal<PrintError | 'away' | null>
  readonly device: string | null
  /** Where a kind of thing is printed that is asked for here; undefined where the shop has no printer. */
  readonly printerOf: (kind: PrintKind) => Printer | undefined
  /** @returns the print's id, by which it is found among the answer's jobs */
  readonly send: (ask: Omit<PrintAsk, 'id' | 'device'>) => Promise<string>
  readonly set: (change: Partial<PrintingSettings>) => Promise<void>
}

export const isOnItsWay = (job: PrintJob | undefined): boolean =>
  job !== undefined && job.step !== 'done' && job.step !== 'failed'

/**
 * @param now the screen's time: with it the server is asked again
 * @param everyMs how often; seldom where nothing is waited for
 */
export function usePrinting(now: number, everyMs: number): Printings {
  const { words } = useShop()
  const device = useOutbox()?.device.value || null
  const { locale } = words.value
  const answer = useSignal<PrintingAnswer | null>(null)
  const missing = useSignal<'away' | 'none' | null>(null)
  const error = useSignal<PrintError | 'away' | null>(null)
  const take = (told: Told<PrintingAnswer>) => {
    missing.value = told.kind === 'told' ? null : told.kind === 'none' ? 'none' : 'away'
    if (told.kind === 'told') answer.value = told.answer
  }
  const look = async () => take(await printing(locale))
  const heard = <T>(told: Told<T>) => {
    error.value = told.kind === 'not' ? (told.error ?? 'away') : null
  }
  useEffect(() => void look(), [Math.floor(now / everyMs)])
  return {
    ...{ answer, missing, error, device },
    printerOf: (kind) => (answer.value ? printerFor(kind, answer.value, device) : undefined),
    async send(ask) {
      const id = commandId()
      heard(await print({ ...ask, id, device }, locale))
      await look()
      return id
    },
    async set(change) {
      const known = answer.value
      if (known === null) return
      const { printers, auto, byKiosk } = known
      const told = await setPrinting({ printers, auto, byKiosk, ...change }, locale)
      heard(told)
      if (told.kind === 'told') take(told)
    },
  }
}
