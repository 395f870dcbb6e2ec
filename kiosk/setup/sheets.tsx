import type { SheetContext } from '../../machines/sheet/context.ts'
import { heatFlashMissing } from '../../machines/sheet/heatFlashForm.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { hashOf } from '../ui/route.ts'
import { shortLength } from '../units/format.ts'
import * as own from '../words/firstRun.ts'
import * as ofShop from '../words/ready.ts'
import { setupIn } from '../words/setupIn.ts'
import * as ofSheet from '../words/sheetForm.ts'
import { useOwnWords } from '../words/words.ts'
import { Curves } from './chart.tsx'
import { HeatFlashForm } from './heatFlash.tsx'
import { BackHead, Retire, Rows } from './parts.tsx'
import { SheetFacts } from './sheetFacts.tsx'
import { SheetFiles } from './sheetFile.tsx'
import { NEW, SheetForm } from './sheetForm.tsx'
import { saidOnce } from './shopFigures.ts'

const SECTION = 'sheets'
const EDIT = 'edit'
const HEAT = 'heat'

type Props = { readonly state: State; readonly now: number; readonly rest: readonly string[] }

const sheetsOf = (state: State) =>
  Object.entries(state.things.sheet).map(([id, thing]) => ({
    id,
    context: thing.context,
  }))

/** The shop's sheets; one of them; the form for one more, or for a new version. */
export function Sheets({ state, now, rest: [id, act, askedFrom] }: Props) {
  if (id === undefined || id === '') return <SheetList state={state} now={now} />
  // A new one, which may begin as a copy of another.
  const from = contextOf(state, 'sheet', act)?.versions.at(-1)?.sheet
  if (id === NEW)
    return <SheetForm key={`${NEW} ${act}`} state={state} now={now} {...(from ? { from } : {})} />
  const context = contextOf(state, 'sheet', id)
  const sheet = context?.versions.at(-1)?.sheet
  if (!context || !sheet) return <SheetList state={state} now={now} />
  if (act === HEAT && heatFlashMissing(sheet).length > 0)
    return <HeatFlashForm key={id} state={state} now={now} sheet={sheet} from={askedFrom} />
  return act === EDIT ? (
    <SheetForm key={id} state={state} now={now} original={sheet} />
  ) : (
    <SheetPage key={id} sheet={sheet} context={context} now={now} />
  )
}

function SheetList({ state, now }: { state: State; now: number }) {
  const words = useWords()
  const { stage } = words
  const setup = setupIn(words)
  const say = useOwnWords(own)
  const facts = useOwnWords(ofSheet)
  const rows = sheetsOf(state).flatMap(({ id, context }) => {
    const sheet = context.versions.at(-1)?.sheet
    if (!sheet) return []
    const about = [
      stage[sheet.stage],
      sheet.edition ?? '',
      sheet.sample ? say.sample : '',
      sheet.hazards ? '' : facts.hazardsMissing,
      context.retiredAt === null ? '' : setup.retired,
    ]
    return [{ id, name: sheet.name, about: about.filter(Boolean).join(' · ') }]
  })
  return (
    <>
      <Rows section={SECTION} rows={rows} />
      <a class="button main" data-act="newSheet" href={hashOf('setup', SECTION, NEW)}>
        {setup.newSheet}
      </a>
      <SheetFiles state={state} now={now} />
    </>
  )
}

type PageProps = {
  readonly sheet: Sheet
  readonly context: SheetContext
  readonly now: number
}

/** A sheet as it is in force: its curves, its versions, the way to a new one. */
function SheetPage({ sheet, context, now }: PageProps) {
  const { words, format } = useShop()
  const { sending, ask } = useCommands()
  const setup = setupIn(words.value)
  const say = useOwnWords(own)
  const facts = useOwnWords(ofSheet)
  const said = useOwnWords(ofShop)
  const layers: Readonly<Record<string, string>> = { ...words.value.stage, ...setup.choices }
  const figures = saidOnce(context.figures ?? [], {
    words: said,
    minutes: (min) => shortLength(min * 60_000),
    temperature: format.value.temperature,
    layer: (stage) => layers[`over.${stage}`] ?? layers[stage] ?? stage,
  })
  const { sample, ...checked } = sheet
  return (
    <>
      <BackHead section={SECTION} title={sheet.name} />
      {sample && (
        <div class="framed stack">
          <p class="sentence">{say.isSample}</p>
          <Press
            act="sheetChecked"
            isOff={sending.value.busy}
            onPress={() => ask('SaveSheet', { sheet: checked })}
          >
            {say.checked}
          </Press>
        </div>
      )}
      <p class="minor">
        {context.versions
          .toReversed()
          .map((v) => setup.version(v.version, format.value.date(v.at, now)))
          .join(' · ')}
        {context.retiredAt !== null && ` · ${setup.retired}`}
      </p>
      {!sheet.hazards && (
        <div class="framed stack" data-missing="hazards">
          <p class="sentence">
            {facts.hazardsMissing}. {facts.hazardsWhy}
          </p>
        </div>
      )}
      {heatFlashMissing(sheet).length > 0 && (
        <div class="framed stack" data-missing="heatFlash">
          <p class="sentence">
            {setup.fields.flashBefore}: {facts.notKnown}
          </p>
          <a class="button" data-act="heatFlash" href={hashOf('setup', SECTION, sheet.sheet, HEAT)}>
            {facts.heatFlashEnter}
          </a>
        </div>
      )}
      <Curves sheet={sheet} />
      <SheetFacts sheet={sheet} />
      {figures.length > 0 && (
        <section class="sheet-facts" data-own-figures>
          <h2>{said.own}</h2>
          <dl>
            {figures.map(({ key, word, text }) => (
              <div key={key} data-own={key}>
                <dt class="minor">{word}</dt>
                <dd>{text}</dd>
              </div>
            ))}
          </dl>
        </section>
      )}
      <p class="minor">{setup.makerFirst}</p>
      <Answer sending={sending.value} now={now} />
      <div class="acts">
        <a
          class="button main"
          data-act="editSheet"
          href={hashOf('setup', SECTION, sheet.sheet, EDIT)}
        >
          {setup.edit}
        </a>
        <a class="button" data-act="copySheet" href={hashOf('setup', SECTION, NEW, sheet.sheet)}>
          {setup.copySheet}
        </a>
      </div>
      {context.retiredAt === null && (
        <Retire onHeld={() => void ask('RetireSheet', { sheet: sheet.sheet })} />
      )}
    </>
  )
}
