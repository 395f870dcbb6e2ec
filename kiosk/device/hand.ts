import type { ReadonlySignal } from '@preact/signals'
import type { State } from '../../machines/state.ts'
import type { Send } from '../commands/send.ts'
import type { Words } from '../words/en.ts'
import type { Kiosk } from './runtime.ts'

/** What was scanned last. A panel and a cup within a minute are a pair, in either order. */
export type ScanPair = {
  readonly panel: string | null
  readonly cup: string | null
  /** What waits for the other of its pair; `atMs` in kiosk time. */
  readonly waiting: { readonly of: 'panel' | 'cup'; readonly atMs: number } | null
}

export const NOTHING_SCANNED: ScanPair = { panel: null, cup: null, waiting: null }

/** The result of a scan or a pedal, shown on every screen until the next one or for a while. */
export type Said = {
  readonly kind: 'done' | 'problem'
  readonly text: string
  /** When a refusal ends by itself, UTC ms. */
  readonly clearsAt?: number
}

/** What scanner and pedal work with. */
export type HandsfreeSources = {
  readonly state: ReadonlySignal<State | null>
  readonly words: ReadonlySignal<Words>
  readonly kiosk: Pick<Kiosk, 'clock' | 'ringer' | 'speaker'>
  readonly send: Send
  /** Shows what a label says. */
  readonly show: (text: string) => void
  /** Back to what runs, after a pair has started a coat. */
  readonly home: () => void
  readonly wait: (ms: number) => Promise<void>
}
