import { useSignal } from '@preact/signals'
import { cureEndsAt, lastPart } from '../../machines/panel/cureClock.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import type { State } from '../../machines/state.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import type { Commands } from '../commands/useCommands.ts'
import { Field } from '../forms/textField.tsx'
import { parseMeasure, unitOf } from '../units/measure.ts'
import { cureModes, isCuring, type PanelView } from './panelView.ts'

type Props = {
  readonly state: State
  readonly view: PanelView
  readonly commands: Commands
  readonly now: number
}

/** The cure: started by air, heat or lamp, the part read while it bakes, and ended. */
export function CurePart({ state, view, commands, now }: Props) {
  const { words } = useShop()
  const { jobs, cautions } = words.value
  const { id, panel } = view
  return (
    <section class="framed cure-part">
      <h2>{jobs.cure}</h2>
      <p class="minor">{cautions.bake}</p>
      {isCuring(view) ? (
        <Running state={state} view={view} commands={commands} now={now} />
      ) : (
        <div class="acts">
          {cureModes(state, panel).map((mode, i) => (
            <button
              type="button"
              key={mode}
              class={i === 0 ? 'main' : ''}
              data-cure={mode}
              disabled={commands.sending.value.busy}
              onClick={() => void commands.ask('StartCure', { panels: [id], mode })}
            >
              {jobs.startCure(jobs.cures[mode] ?? mode)}
            </button>
          ))}
        </div>
      )}
    </section>
  )
}

function Running({ state, view, commands, now }: Props) {
  const { words, format } = useShop()
  const { jobs } = words.value
  const { id, panel } = view
  const typed = useSignal('')
  if (!panel.cure) return null
  const { units } = settingsOf(state)
  const endsAt = cureEndsAt(state, panel)
  const part = lastPart(panel)
  const time = (ms: number) => format.value.timeAndDay(ms, now)
  const said = [
    jobs.curing(jobs.cures[panel.cure.mode] ?? panel.cure.mode, time(panel.cure.startedAt)),
    endsAt === null ? '' : jobs.endsAt(time(endsAt)),
    part ? format.value.temperature(part.partC) : jobs.unmeasured,
    part?.isEstimated ? jobs.history.estimated : '',
  ]
  const read = async (event: Event) => {
    event.preventDefault()
    const partC = parseMeasure(typed.value, 'temperature', units) ?? typed.value
    const sent = await commands.askTyped('ReadPart', { panel: id, partC })
    if (isTaken(sent)) typed.value = ''
  }
  return (
    <>
      <p>{said.filter((text) => text !== '').join(' · ')}</p>
      <form class="older" onSubmit={(e) => void read(e)}>
        <Field
          name="part"
          word={jobs.partNow(unitOf('temperature', units).word)}
          value={typed.value}
          onInput={(text) => {
            typed.value = text
          }}
        />
        <button type="submit" data-act="ReadPart">
          {jobs.readPart}
        </button>
      </form>
      <div class="acts">
        {panel.cure.mode === 'bake' && (
          <button
            type="button"
            data-act="atTemperature"
            onClick={() => void commands.ask('ReadPart', { panel: id })}
          >
            {jobs.atTemperature}
          </button>
        )}
        <button
          type="button"
          class={endsAt !== null && now >= endsAt ? 'main' : ''}
          data-act="EndCure"
          onClick={() => void commands.ask('EndCure', { panels: [id] })}
        >
          {jobs.endCure}
        </button>
      </div>
    </>
  )
}
