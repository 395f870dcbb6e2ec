import { readyAsked, readyForStep } from '../../machines/panel/filmReady.ts'
import type { READY_FOR } from '../../machines/sheet/shopFigure.ts'
import { contextOf, type State } from '../../machines/state.ts'

/** A product of which nobody has typed from when its film is ready for some work. */
export type ReadyAsk = { readonly sheet: string; readonly what: (typeof READY_FOR)[number] }

type Pressed = { readonly type: string; readonly datas: readonly object[] }
type AnyData = { readonly panel?: string; readonly step?: number }

/**
 * What is asked before some work on a film: figures that nobody has typed, each once. Pure.
 * @param acts what may be pressed, each with the data of its commands
 * @param now kiosk time, UTC ms
 */
export function readyAsksOf(state: State, acts: readonly Pressed[], now: number): ReadyAsk[] {
  const asks = acts.flatMap(({ type, datas }) =>
    datas.flatMap((data) => asksOfOne(state, type, data as AnyData, now)),
  )
  const seen = new Map(asks.map((ask) => [`${ask.what} ${ask.sheet}`, ask]))
  return [...seen.values()]
}

/** The same for one panel and one work, such as moving it. */
export function readyAskOf(
  state: State,
  id: string | undefined,
  what: ReadyAsk['what'],
  now: number,
): ReadyAsk[] {
  const panel = contextOf(state, 'panel', id)
  const sheet = panel ? readyAsked({ state, at: now }, { panel }, what) : null
  return sheet === null ? [] : [{ sheet, what }]
}

function asksOfOne(state: State, type: string, data: AnyData, now: number): ReadyAsk[] {
  const panel = contextOf(state, 'panel', data.panel)
  const whatOf = (): ReadyAsk['what'] | undefined => {
    if (type === 'AbradePanel' || type === 'DenibPanel') return 'sand'
    if (type === 'PolishPanel') return 'polish'
    if (type !== 'DoPrepStep' || !panel || data.step === undefined) return undefined
    const what = readyForStep(panel, { ...data, step: data.step })
    return what === 'dustFree' ? undefined : what
  }
  const what = whatOf()
  return what === undefined ? [] : readyAskOf(state, data.panel, what, now)
}
