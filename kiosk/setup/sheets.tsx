import type { SheetContext } from '../../machines/sheet/context.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { sheetSchema } from '../../machines/sheet/sheetSchema.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { idFrom } from '../forms/draft.ts'
import { FormOf, useForm } from '../forms/form.tsx'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { hashOf } from '../ui/route.ts'
import * as own from '../words/firstRun.ts'
import { useOwnWords } from '../words/words.ts'
import { Curves } from './chart.tsx'
import { SHEET } from './forms.ts'
import { BackHead, Retire, Rows } from './parts.tsx'
import { LoadFile, SheetFiles } from './sheetFile.tsx'

const SECTION = 'sheets'
const NEW = 'new'
const EDIT = 'edit'

type Props = { readonly state: State; readonly now: number; readonly rest: readonly string[] }

const sheetsOf = (state: State) =>
  Object.entries(state.things.sheet).map(([id, thing]) => ({
    id,
    context: thing.context,
  }))

/** The shop's sheets; one of them; the form for one more, or for a new version. */
export function Sheets({ state, now, rest: [id, act] }: Props) {
  if (id === undefined || id === '') return <SheetList state={state} now={now} />
  // A new one, which may begin as a copy of another.
  const from = contextOf(state, 'sheet', act)?.versions.at(-1)?.sheet
  if (id === NEW)
    return <SheetForm key={`${NEW} ${act}`} state={state} now={now} {...(from ? { from } : {})} />
  const context = contextOf(state, 'sheet', id)
  const sheet = context?.versions.at(-1)?.sheet
  if (!context || !sheet) return <SheetList state={state} now={now} />
  return act === EDIT ? (
    <SheetForm key={id} state={state} now={now} original={sheet} />
  ) : (
    <SheetPage key={id} sheet={sheet} context={context} now={now} />
  )
}

function SheetList({ state, now }: { state: State; now: number }) {
  const { setup, stage } = useWords()
  const say = useOwnWords(own)
  const rows = sheetsOf(state).flatMap(({ id, context }) => {
    const sheet = context.versions.at(-1)?.sheet
    if (!sheet) return []
    const about = [
      stage[sheet.stage],
      sheet.sample ? say.sample : '',
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
  const { setup } = words.value
  const say = useOwnWords(own)
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
          .map((v) => setup.version(v.version, format.value.date(v.at)))
          .join(' · ')}
        {context.retiredAt !== null && ` · ${setup.retired}`}
      </p>
      <Curves sheet={sheet} />
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

type FormProps = {
  readonly state: State
  readonly now: number
  readonly original?: Sheet
  /** The sheet that a new one begins as a copy of: it gets a name of its own. */
  readonly from?: Sheet
}

function SheetForm({ state, now, original, from }: FormProps) {
  const { setup } = useWords()
  const name = `sheet.${original?.sheet ?? (from ? `${NEW}.${from.sheet}` : NEW)}`
  const draft = useForm(name, SHEET, original ?? (from && { ...from, sheet: undefined, name: '' }))
  const taken = sheetsOf(state).map(({ id }) => id)
  const complete = (value: object) => {
    const given = value as { sheet?: string; name?: string }
    const sheet = original?.sheet ?? given.sheet ?? idFrom(given.name ?? '', taken)
    // What was typed over a sample is one still, until somebody says that it was checked.
    return { ...value, sheet, ...((original ?? from)?.sample ? { sample: true } : {}) }
  }
  return (
    <>
      <BackHead section={SECTION} title={original?.name ?? setup.newSheet} />
      {original ? <p class="minor">{setup.newVersion}</p> : <LoadFile draft={draft} />}
      <FormOf
        draft={draft}
        name={name}
        fields={SHEET}
        {...(original ? { original } : {})}
        schema={sheetSchema}
        complete={complete}
        type="SaveSheet"
        data={(sheet) => ({ sheet })}
        under="data.sheet."
        now={now}
        word={setup.save}
        onSaved={() => {
          location.hash = hashOf('setup', SECTION, original?.sheet ?? '')
        }}
      >
        <p class="minor">{setup.makerFirst}</p>
      </FormOf>
    </>
  )
}
