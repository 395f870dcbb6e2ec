import { type Signal, useSignal } from '@preact/signals'
import { check } from '../../machines/accept.ts'
import type { SheetContext } from '../../machines/sheet/context.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { sheetSchema } from '../../machines/sheet/sheetSchema.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { wrongText } from '../commands/refusalText.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { idFrom, written } from '../forms/draft.ts'
import { FormOf, useForm } from '../forms/form.tsx'
import type { Draft } from '../forms/spec.ts'
import { Answer } from '../ui/answer.tsx'
import { hashOf } from '../ui/route.ts'
import { Curves } from './chart.tsx'
import { SHEET } from './forms.ts'
import { BackHead, Retire, Rows } from './parts.tsx'

const SECTION = 'sheets'
const NEW = 'new'
const EDIT = 'edit'
/** As large as a sheet with every field can be, and room. */
const FILE_BYTES_MOST = 256_000

type Props = { readonly state: State; readonly now: number; readonly rest: readonly string[] }

const sheetsOf = (state: State) =>
  Object.entries(state.things.sheet).map(([id, thing]) => ({
    id,
    context: thing.context,
  }))

/** The shop's sheets; one of them; the form for one more, or for a new version. */
export function Sheets({ state, now, rest: [id, act] }: Props) {
  if (id === undefined || id === '') return <SheetList state={state} />
  if (id === NEW) return <SheetForm state={state} now={now} />
  const context = contextOf(state, 'sheet', id)
  const sheet = context?.versions.at(-1)?.sheet
  if (!context || !sheet) return <SheetList state={state} />
  return act === EDIT ? (
    <SheetForm key={id} state={state} now={now} original={sheet} />
  ) : (
    <SheetPage key={id} sheet={sheet} context={context} now={now} />
  )
}

function SheetList({ state }: { state: State }) {
  const { setup, stage } = useWords()
  const rows = sheetsOf(state).flatMap(({ id, context }) => {
    const sheet = context.versions.at(-1)?.sheet
    if (!sheet) return []
    const about = [stage[sheet.stage], context.retiredAt === null ? '' : setup.retired]
    return [{ id, name: sheet.name, about: about.filter(Boolean).join(' · ') }]
  })
  return (
    <>
      <Rows section={SECTION} rows={rows} />
      <a class="button main" data-act="newSheet" href={hashOf('setup', SECTION, NEW)}>
        {setup.newSheet}
      </a>
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
  return (
    <>
      <BackHead section={SECTION} title={sheet.name} />
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
        {context.retiredAt === null && (
          <Retire onHeld={() => void ask('RetireSheet', { sheet: sheet.sheet })} />
        )}
      </div>
    </>
  )
}

type FormProps = { readonly state: State; readonly now: number; readonly original?: Sheet }

function SheetForm({ state, now, original }: FormProps) {
  const { setup } = useWords()
  const name = `sheet.${original?.sheet ?? NEW}`
  const draft = useForm(name, SHEET, original)
  const taken = sheetsOf(state).map(({ id }) => id)
  const complete = (value: object) => {
    const given = value as { sheet?: string; name?: string }
    const sheet = original?.sheet ?? given.sheet ?? idFrom(given.name ?? '', taken)
    return { ...value, sheet }
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

/** Fills the form from a file, so that somebody looks it over before it is saved. */
function LoadFile({ draft }: { draft: Signal<Draft> }) {
  const { words, format } = useShop()
  const said = useSignal('')
  const { setup } = words.value
  const load = async (file: File): Promise<string> => {
    if (file.size > FILE_BYTES_MOST) return setup.tooLarge
    let json: unknown
    try {
      json = JSON.parse(await file.text())
    } catch {
      return setup.notJson
    }
    const { sheet: inner } = (json ?? {}) as { sheet?: unknown }
    const checked = check(sheetSchema, typeof inner === 'object' ? inner : json, 'sheet')
    if (!checked.ok) return wrongText(checked.error, { words: words.value, format: format.value })
    draft.value = written({ kind: 'group', fields: SHEET }, checked.value)
    return setup.loaded
  }
  return (
    <div class="load-file">
      <label class="button">
        {setup.loadFile}
        <input
          type="file"
          accept="application/json,.json"
          class="file"
          onChange={(e) => {
            const file = e.currentTarget.files?.[0]
            if (file)
              void load(file).then((text) => {
                said.value = text
              })
          }}
        />
      </label>
      {said.value !== '' && (
        <p class="sentence" role="status">
          {said.value}
        </p>
      )}
    </div>
  )
}
