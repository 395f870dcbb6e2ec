import { effect, type ReadonlySignal, signal } from '@preact/signals'
import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import { lastPress, lastUndone, type Press } from '../commands/presses.ts'
import { again } from '../ui/again.ts'
import { type HandsfreeSources, NOTHING_SCANNED, type Said, type ScanPair } from './hand.ts'
import type { PedalSettings } from './pedal.ts'
import type { Awake } from './wakeLock.ts'

type Handsfree = {
  readonly said: ReadonlySignal<Said | null>
  readonly hand: ReadonlySignal<ScanPair>
  /** A code, from wherever it was read. */
  readonly scan: (text: string) => Promise<void>
  /** The pedal went down. @param panel the one that it is bound to; null for the one scanned last */
  readonly pedal: (panel: string | null) => Promise<void>
  readonly close: () => void
}

/** How long a message stays: a refusal has to be read, a confirmation only seen. */
const SAID_FOR_MS = { done: 8_000, problem: 30_000 } as const
/** Loads what scans and the pedal do after the first frame: nobody scans before it. */
export const loadScanActions = () => again(() => import('./scanActions.ts'))

export function handsfree(from: HandsfreeSources): Handsfree {
  const said = signal<Said | null>(null)
  const hand = signal(NOTHING_SCANNED)
  let last: Press | null = null
  // The bar for undoing goes after a few seconds; who undoes by scanner has to walk to the code first.
  effect(() => {
    last = lastPress.value ?? last
    if (last === lastUndone.value) last = null
  })
  // What was said of one scan ends with the next act, whoever did it and however.
  effect(() => {
    if (lastPress.value !== null) said.value = null
  })

  function say(next: Said): void {
    said.value = next
    from.kiosk.speaker.touch(next.kind === 'done' ? 'ok' : 'error')
    void from.wait(SAID_FOR_MS[next.kind]).then(() => {
      if (said.value === next) said.value = null
    })
  }

  /** One after another: what the second means depends on the first. */
  let turn: Promise<unknown> = Promise.resolve()
  const inTurn = (run: () => Promise<void>): Promise<void> => {
    const mine = turn.then(run)
    turn = mine.catch(() => {})
    return mine
  }

  const actions = async () =>
    (await loadScanActions().catch(() => null))?.scanActions({
      ...from,
      said,
      hand,
      say,
      last: () => last,
    })

  return {
    said,
    hand,
    scan: (text) =>
      inTurn(async () => {
        const loaded = await actions()
        if (loaded) return loaded.scan(text)
        // The file could not be loaded: the label can still be shown.
        said.value = null
        from.show(text)
      }),
    pedal: (panel) => inTurn(async () => (await actions())?.pedal(panel)),
    close: () => {
      said.value = null
    },
  }
}

type Hands = {
  readonly hands: Handsfree
  readonly pedal: PedalSettings
  readonly awake: ReadonlySignal<Awake>
}

const Context = createContext<Hands | null>(null)

export const HandsProvider = Context.Provider

/** Scanner, camera, pedal and display of this kiosk. */
export function useHands(): Hands {
  const hands = useContext(Context)
  if (hands === null) throw new Error('This screen stands outside its kiosk.')
  return hands
}
