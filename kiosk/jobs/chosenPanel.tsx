import { useSignal } from '@preact/signals'
import type { JobColour } from '../../machines/job/machine.ts'
import { OPERATIONS, type Operation } from '../../machines/panel/context.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import type { State } from '../../machines/state.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Field } from '../forms/fields.tsx'
import { Answer } from '../ui/answer.tsx'
import { Press, Toggle } from '../ui/buttons.tsx'
import { Choice, worded } from '../ui/parts.tsx'
import { ZoneChoice } from './panelParts.tsx'
import { type DraftPanel, routeFor, SUBSTRATES } from './plan.ts'
import { RouteEditor } from './routeEditor.tsx'
import { WayOn } from './wayOn.tsx'
import { WhereHung } from './whereHung.tsx'

type Props = {
  readonly state: State
  readonly panel: DraftPanel
  readonly sheets: readonly Sheet[]
  readonly colours: readonly JobColour[]
  readonly onChange: (part: Partial<DraftPanel>) => void
  readonly onDrop: () => void
  readonly now: number
}

/** A chosen panel before it is added: what is done to it, on what, how large, where, by which route. */
export function ChosenPanel(props: Props) {
  const { state, panel, sheets, colours, onChange, onDrop, now } = props
  const { words } = useShop()
  const { jobs } = words.value
  const isOpen = useSignal(false)
  const { usualRoutes } = settingsOf(state)
  const route = routeFor(panel, sheets, usualRoutes)
  const { sending, ask } = useCommands()
  const keep = async () => {
    const { operation, substrate } = panel
    const own = { operation, isPlastic: substrate === 'plastic', route: [...route] }
    if (isTaken(await ask('ChangeSettings', { usualRoutes: [own] }))) onChange({ route: null })
  }
  return (
    <section class="framed chosen" data-chosen={panel.on ?? panel.name} aria-label={panel.name}>
      <div class="page-head">
        <h2>{panel.name}</h2>
        <Press isApart onPress={onDrop}>
          {jobs.takeOut}
        </Press>
      </div>
      <Choice
        word={jobs.operation}
        options={worded(OPERATIONS, (value) => words.value.operation[value as Operation])}
        picked={panel.operation}
        onPick={(value) => onChange({ operation: value as Operation, route: null })}
      />
      {panel.operation === 'new-part' && (
        <WhereHung
          isOff={panel.isOff === true}
          onPick={(isOff) => onChange({ isOff, route: null })}
        />
      )}
      <Choice
        word={jobs.substrate}
        options={worded(SUBSTRATES, (value) => jobs.substrates[value] ?? value)}
        picked={panel.substrate}
        onPick={(value) => onChange({ substrate: value })}
      />
      {colours.length > 1 && (
        <Choice
          word={jobs.colour}
          options={worded(
            colours.map(({ key }) => key),
            (key) => `${key} ${colours.find((c) => c.key === key)?.code ?? ''}`,
          )}
          picked={panel.colour}
          onPick={(value) => onChange({ colour: value, route: null })}
        />
      )}
      <Field
        name={`area-${panel.id}`}
        word={jobs.area}
        value={panel.area}
        onInput={(area) => onChange({ area })}
      />
      <ZoneChoice
        state={state}
        picked={panel.zone}
        name={panel.id}
        onPick={(zone) => onChange({ zone })}
      />
      <p>
        <span class="minor">{jobs.route}: </span>
        <b>{route.map((step) => words.value.stage[step.stage]).join(' → ')}</b>
      </p>
      <WayOn {...{ state, route, sheets }} />
      <div class="acts">
        <Toggle act="changeRoute" isOpen={isOpen}>
          {jobs.changeRoute}
        </Toggle>
        {panel.route !== null && (
          <Press act="keepRoute" isOff={sending.value.busy} onPress={keep}>
            {jobs.keepRoute}
          </Press>
        )}
        {panel.route !== null && (
          <Press onPress={() => onChange({ route: null })}>{jobs.usual}</Press>
        )}
      </div>
      <Answer sending={sending.value} now={now} />
      {isOpen.value && (
        <>
          <p class="minor">{jobs.routeWhy}</p>
          <RouteEditor
            route={route}
            sheets={sheets}
            colours={colours}
            fixed={0}
            onChange={(next) => onChange({ route: [...next] })}
          />
        </>
      )}
    </section>
  )
}
