import { defaultZone } from '../../machines/climate/zones.ts'
import type { JobContext } from '../../machines/job/machine.ts'
import type { PanelContext } from '../../machines/panel/context.ts'
import { currentSheets } from '../../machines/plan/route.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import type { State } from '../../machines/state.ts'
import { type BodyPanel, type BodyType, bodyTypes } from '../../machines/trade/panels.ts'
import { ownName } from '../commands/panelName.ts'
import { asOneTouch } from '../commands/presses.ts'
import { isTaken, thingId } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Field } from '../forms/fields.tsx'
import { useDraft } from '../forms/useDraft.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { fromHere } from '../ui/here.ts'
import { Choice, PageHead, Tick, worded } from '../ui/parts.tsx'
import { BlendAdvice } from './blendAdvice.tsx'
import { ChosenPanel } from './chosenPanel.tsx'
import { jobsPath } from './names.ts'
import { areaText, bodyOfVehicle, bodyWithId, fullName, panelNamed } from './outline.ts'
import { OutlineView } from './outlineView.tsx'
import { panelsOf } from './panelView.ts'
import {
  addPanelData,
  changed,
  type Draft,
  type DraftPanel,
  kindOf,
  newPanel,
  panelsSchema,
  planned,
  proposalsFor,
  toggled,
  without,
} from './plan.ts'

type Props = {
  readonly state: State
  readonly id: string
  readonly job: JobContext
  readonly now: number
}

const NOT_DRAWN = 'loose'

/** Panels are chosen on the drawing or by their names, each with its work and its route, then added. */
export function AddPanels({ state, id: jobId, job, now }: Props) {
  const { words } = useShop()
  const { jobs } = words.value
  const { sending, askTyped } = useCommands()
  const sheets = currentSheets(state)
  const first = bodyOfVehicle(job.vehicle)?.id ?? (job.vehicle === null ? NOT_DRAWN : 'van')
  const empty = (): Draft => ({ body: first, panels: [], other: '' })
  const draft = useDraft(`draft.panels.${jobId}`, panelsSchema, empty)
  const body = bodyWithId(draft.value.body)
  const colour = job.colours[0]?.key ?? ''
  const ofJob = panelsOf(state, jobId).map(({ panel }) => panel)
  const inJob = body ? onBody(body, ofJob) : []
  const isLeft = (on: string) => job.blends?.some((one) => one.on === on && !one.blend)
  const proposed = body ? proposalsFor(body, draft.value, inJob).filter((on) => !isLeft(on)) : []
  const make = (given: Pick<DraftPanel, 'on' | 'name' | 'area' | 'operation'>) =>
    newPanel({ ...given, id: thingId(), colour, zone: defaultZone(state) })
  const fromBody = ({ id, areaM2 }: BodyPanel, operation: DraftPanel['operation']) =>
    make({ on: id, name: fullName(words.value, id), area: String(areaM2), operation })
  const touch = (on: string, operation: DraftPanel['operation'] = 'repair') => {
    const panel = body?.panels.find((one) => one.id === on)
    if (panel) draft.value = toggled(draft.value, on, () => fromBody(panel, operation))
  }
  const addOther = () => {
    const typed = draft.value.other.trim()
    if (typed === '') return
    const name = ownName(
      typed,
      [...draft.value.panels, ...ofJob].map((panel) => panel.name),
    )
    const panel = make({ on: null, name, area: '', operation: 'new-part' })
    draft.value = { ...draft.value, panels: [...draft.value.panels, panel], other: '' }
  }
  /** Those that are kept leave the form; the first that is not stays with the rest, and says why. */
  const send = async () => {
    const isHere = fromHere()
    await asOneTouch('AddPanel', async () => {
      for (const panel of draft.value.panels) {
        const isThere = panel.id in state.things.panel
        const data = addPanelData(jobId, panel, sheets, settingsOf(state).usualRoutes)
        const sent = isThere ? null : await askTyped('AddPanel', data)
        if (sent !== null && !isTaken(sent)) return
        draft.value = without(draft.value, panel.id)
      }
    })
    if (draft.value.panels.length === 0) {
      draft.value = empty()
      if (isHere()) location.hash = jobsPath(jobId)
    }
  }
  const { panels, other } = draft.value
  return (
    <div class="form jobs two-up">
      <PageHead title={`${job.title} · ${jobs.choose}`} back={jobs.back} backTo={jobsPath(jobId)} />
      <div class="column">
        {sheets.length === 0 && <p class="sentence">{jobs.noSheets}</p>}
        <Choice
          word={jobs.body}
          options={worded(
            [...bodyTypes.map((one) => one.id), NOT_DRAWN],
            (value) => jobs.vehicle.bodies[value] ?? jobs.vehicle.loose,
          )}
          picked={draft.value.body}
          onPick={(value) => {
            draft.value = { ...draft.value, body: value }
          }}
        />
        {body && (
          <>
            <OutlineView
              body={body}
              chosen={panels.flatMap(({ on }) => on ?? [])}
              inJob={inJob.map(({ on }) => on)}
              proposed={proposed}
              onTouch={touch}
            />
            <p class="minor">{jobs.areas}</p>
            <BlendAdvice
              job={jobId}
              body={body.id}
              panels={planned(draft.value, inJob)}
              kind={kindOf(job, draft.value)}
              decided={job.blends ?? []}
              now={now}
              onTake={(on) => touch(on, 'blend')}
            />
            <fieldset class="panel-list">
              <legend class="minor">{jobs.byList}</legend>
              {body.panels.map(({ id, areaM2 }) => {
                const isChosen = panels.some(({ on }) => on === id)
                const isIn = inJob.some(({ on }) => on === id)
                return (
                  <button
                    type="button"
                    key={id}
                    data-list={id}
                    aria-pressed={isChosen}
                    disabled={isIn}
                    onClick={() => touch(id)}
                  >
                    {isChosen && <Tick />}
                    <span>
                      {fullName(words.value, id)}
                      <small>{isIn ? jobs.inJob : areaText(areaM2)}</small>
                    </span>
                  </button>
                )
              })}
            </fieldset>
          </>
        )}
        <form
          class="older"
          onSubmit={(e) => {
            e.preventDefault()
            addOther()
          }}
        >
          <Field
            name="other"
            word={`${jobs.otherPart}: ${jobs.otherName}`}
            value={other}
            onInput={(text) => {
              draft.value = { ...draft.value, other: text }
            }}
          />
          <button type="submit">{jobs.otherAdd}</button>
        </form>
      </div>
      <div class="column">
        {panels.map((panel) => (
          <ChosenPanel
            key={panel.id}
            state={state}
            panel={panel}
            sheets={sheets}
            colours={job.colours}
            now={now}
            onChange={(part) => {
              draft.value = changed(draft.value, panel.id, part)
            }}
            onDrop={() => {
              draft.value = without(draft.value, panel.id)
            }}
          />
        ))}
      </div>
      {panels.length > 0 && (
        <div class="stays">
          <Answer sending={sending.value} now={now} />
          <Press act="AddPanel" isMain isOff={sending.value.busy} onPress={send}>
            {jobs.addThese(panels.length)}
          </Press>
        </div>
      )}
    </div>
  )
}

/** The panels of a body that the job has already, by their names. */
function onBody(body: BodyType, panels: readonly PanelContext[]) {
  return panels.flatMap((panel) => {
    const on = panelNamed(body, panel.name)?.id
    return on === undefined ? [] : [{ on, operation: panel.operation }]
  })
}
