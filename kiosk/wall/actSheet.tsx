import type { State } from '../../machines/state.ts'
import { Answer } from '../shop/answer.tsx'
import { useShop } from '../shop/context.ts'
import { isTaken } from '../shop/send.ts'
import { useSend } from '../shop/useSend.ts'
import { type Act, actsOf } from './acts.ts'
import type { Lane } from './view.ts'

type Props = {
  readonly state: State
  readonly lane: Lane
  readonly now: number
  readonly onDone: () => void
}

/** Where a cup has still to be mixed: the way to the Bench, with the product named. */
function MixFirst({ lane }: { lane: Lane }) {
  const { words } = useShop()
  if (lane.sheet === null) return null
  return (
    <a class="button main" href={`#/bench/${lane.sheet}/${lane.job}`}>
      {words.value.act.mixFor(lane.sheet)}
    </a>
  )
}

/** What may be done with one lane: the expected first and largest, the rest beside it. */
export function ActSheet({ state, lane, now, onDone }: Props) {
  const { words } = useShop()
  const { sending, ask } = useSend()
  const acts = actsOf(state, lane, words.value, now)
  const wantsCup = !acts.some((act) => act.type === 'StartCoat') && isWaitingForCoat(lane)
  const press = async (act: Act) => {
    const sent = await ask(act.type, act.data)
    if (isTaken(sent)) onDone()
  }
  const again = async (reason: string) => {
    const { asked } = sending.value
    if (!asked) return
    const sent = await ask(asked.type, { ...asked.data, override: { reason } })
    if (isTaken(sent)) onDone()
  }
  return (
    <section class="act-sheet" aria-label={lane.name}>
      <div class="act-head">
        <h2>{lane.name}</h2>
        <button type="button" onClick={onDone}>
          {words.value.act.close}
        </button>
      </div>
      <Answer sending={sending.value} now={now} onOverride={(reason) => void again(reason)} />
      <div class="acts">
        {acts.map((act) => (
          <button
            type="button"
            key={act.key}
            class={act.isMain ? 'main' : ''}
            data-act={act.type}
            disabled={sending.value.busy}
            onClick={() => void press(act)}
          >
            <span>
              {act.label}
              {act.small && <small>{act.small}</small>}
            </span>
          </button>
        ))}
        {wantsCup && <MixFirst lane={lane} />}
      </div>
      {lane.stage === 'cure' && <p class="minor">{words.value.cautions.bake}</p>}
    </section>
  )
}

const isWaitingForCoat = ({ waits }: Lane): boolean =>
  ['coat', 'flash', 'look', 'abrade', 'noFlash'].includes(waits.for)
