import { type ReadonlySignal, useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import type { Settings } from '../device/settings.ts'
import { arm, armed, disarm, nextOf, readArmed, retimed } from '../lanes/armed.ts'
import { again } from '../ui/again.ts'
import { Press } from '../ui/buttons.tsx'
import { later } from '../ui/screen.tsx'

/** Fetched when the first start is got ready: that is done before its key is there. */
const ArmedStart = later(async () => (await again(() => import('./armedStart.tsx'))).ArmedStart)

const KEPT = 'armed'

type Props = {
  readonly state: State
  readonly now: ReadonlySignal<number>
  readonly settings: Settings
}

/** Starts that were got ready: seen on every screen, with their key when flash is over. */
export function ArmedStarts({ state, now: ticking, settings }: Props) {
  const { words } = useShop()
  const forgotten = useSignal<readonly string[]>([])
  // While nothing waits there is nothing to look at the clock for.
  const now = armed.value.length > 0 ? ticking.value : ticking.peek()
  useEffect(() => {
    if (armed.peek().length === 0) armed.value = readArmed(settings.kept(KEPT))
    return armed.subscribe((all) =>
      settings.keep(KEPT, all.length === 0 ? null : JSON.stringify(all)),
    )
  }, [])
  useEffect(() => {
    for (const start of armed.value) {
      const { kind } = nextOf(state, start, now)
      if (kind === 'over' || kind === 'forgotten') disarm(start.panels)
      if (kind === 'forgotten') forgotten.value = [...forgotten.value, start.label]
      const again = retimed(state, start, now)
      if (again !== start) arm(again)
    }
  }, [now, state])
  const { board, act } = words.value
  return (
    <>
      {armed.value.map((start) => (
        <ArmedStart key={start.panels.join()} start={start} state={state} now={now} />
      ))}
      {forgotten.value.map((label, i) => (
        <div class="armed" role="alert" data-forgotten key={`${i} ${label}`}>
          <p>
            <b>{board.armedForgotten(label)}</b>
          </p>
          <Press
            onPress={() => {
              forgotten.value = forgotten.value.toSpliced(i, 1)
            }}
          >
            {act.close}
          </Press>
        </div>
      ))}
    </>
  )
}
