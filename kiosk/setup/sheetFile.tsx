import { type Signal, useSignal } from '@preact/signals'
import { check } from '../../machines/accept.ts'
import {
  previewOf,
  type SheetFile,
  sheetFileOf,
  sheetFileSchema,
} from '../../machines/sheet/file.ts'
import { sheetSchema } from '../../machines/sheet/sheetSchema.ts'
import type { State } from '../../machines/state.ts'
import { wrongText } from '../commands/refusalText.ts'
import { isTaken } from '../commands/send.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { written } from '../forms/draft.ts'
import type { Draft } from '../forms/spec.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { setupIn } from '../words/setupIn.ts'
import * as csvWords from '../words/sheetCsv.ts'
import { useOwnWords } from '../words/words.ts'
import { SHEET } from './forms.ts'
import { type CsvWrong, csvTemplate, sheetsInCsv, textOf } from './sheetCsv.ts'

/** As large as a sheet with every field can be, and room; and as a file of many that a command can carry. */
const SHEET_BYTES_MOST = 256_000
const FILE_BYTES_MOST = 900_000
/** What is wrong in a table, as far as it is shown at once. */
const WRONG_SHOWN = 6

type PickProps = {
  readonly word: string
  readonly bytesMost: number
  readonly onRead: (json: unknown) => string
  /** Reads a file that is no JSON; without it only JSON is taken. */
  readonly onTable?: (text: string) => Promise<string>
}

/** A file that is read as JSON; what became of it is said beneath. */
function PickFile({ word, bytesMost, onRead, onTable }: PickProps) {
  const setup = setupIn(useWords())
  const said = useSignal('')
  const load = async (file: File): Promise<string> => {
    if (file.size > bytesMost) return setup.tooLarge
    const text = textOf(await file.arrayBuffer())
    if (onTable && !text.trimStart().startsWith('{')) return onTable(text)
    try {
      return onRead(JSON.parse(text))
    } catch (error) {
      if (error instanceof SyntaxError) return setup.notJson
      throw error
    }
  }
  return (
    <div class="load-file">
      <label class="button">
        {word}
        <input
          type="file"
          accept={onTable ? '.json,.csv,.tsv,.txt' : 'application/json,.json'}
          class="file"
          onChange={(e) => {
            const file = e.currentTarget.files?.[0]
            if (file)
              void load(file).then((text) => {
                said.value = text
              })
            // The same file may be chosen again once it was mended.
            e.currentTarget.value = ''
          }}
        />
      </label>
      {said.value !== '' && (
        <p class="sentence lines" role="status">
          {said.value}
        </p>
      )}
    </div>
  )
}

/** Fills the form from a file, so that somebody looks it over before it is saved. */
export function LoadFile({ draft }: { draft: Signal<Draft> }) {
  const { words, format } = useShop()
  const setup = setupIn(words.value)
  const read = (json: unknown): string => {
    const { sheet: inner } = (json ?? {}) as { sheet?: unknown }
    const checked = check(sheetSchema, typeof inner === 'object' ? inner : json, 'sheet')
    if (!checked.ok) return wrongText(checked.error, { words: words.value, format: format.value })
    draft.value = written({ kind: 'group', fields: SHEET }, checked.value)
    return setup.loaded
  }
  return <PickFile word={setup.loadFile} bytesMost={SHEET_BYTES_MOST} onRead={read} />
}

type Spoken = Parameters<typeof wrongText>[1]

function wrongInTable(one: CsvWrong, say: typeof csvWords.en, spoken: Spoken): string {
  switch (one.kind) {
    case 'empty':
      return say.empty
    case 'broken':
      return say.broken
    case 'twice':
      return say.twice(one.column)
    case 'column':
      return say.column(one.given, one.columns.join(', '))
    case 'field':
      return say.field(one.row, one.column, wrongText(one.error, spoken, { name: null }))
  }
}

/** What is wrong in a table, a line each, and that nothing of it was taken. */
function tableText(wrong: readonly CsvWrong[], say: typeof csvWords.en, spoken: Spoken): string {
  const shown = wrong.slice(0, WRONG_SHOWN)
  const more = wrong.length - shown.length
  return [
    ...shown.map((one) => wrongInTable(one, say, spoken)),
    ...(more > 0 ? [say.more(more)] : []),
    say.nothing,
  ].join('\n')
}

type Props = { readonly state: State; readonly now: number }

/** All sheets of the shop as a file, and those of a file into the shop: all or none, looked at before. */
export function SheetFiles({ state, now }: Props) {
  const { words, format } = useShop()
  const setup = setupIn(words.value)
  const { sending, ask } = useCommands()
  const file = useSignal<SheetFile | null>(null)
  const read = (json: unknown): string => {
    const checked = check(sheetFileSchema, json, 'file')
    file.value = checked.ok ? checked.value : null
    if (checked.ok) return ''
    return wrongText(checked.error, { words: words.value, format: format.value })
  }
  const say = useOwnWords(csvWords)
  const readTable = async (text: string): Promise<string> => {
    file.value = null
    const known = Object.values(state.things.sheet).flatMap(({ context }) => {
      const sheet = context.versions.at(-1)?.sheet
      return sheet ? [[sheet.name, sheet.sheet] as const] : []
    })
    const table = await sheetsInCsv(text, Object.fromEntries(known))
    if (table.ok) return read({ format: 'flashbell-sheets', version: 1, sheets: table.sheets })
    return tableText(table.wrong, say, { words: words.value, format: format.value })
  }
  const own = sheetFileOf(state)
  const previews = file.value ? previewOf(state, file.value.sheets) : []
  const isAny = previews.some(({ is }) => is !== 'same')
  const take = async () => {
    if (file.value && isTaken(await ask('ImportSheets', file.value))) file.value = null
  }
  return (
    <section class="stack sheet-files">
      {own.sheets.length > 0 && (
        <a
          class="button"
          data-act="exportSheets"
          download="flashbell-sheets.json"
          href={`data:application/json;charset=utf-8,${encodeURIComponent(JSON.stringify(own, null, 2))}`}
        >
          {setup.exportSheets}
        </a>
      )}
      <a
        class="button"
        data-act="csvTemplate"
        download="flashbell-sheets.csv"
        href={`data:text/csv;charset=utf-8,${encodeURIComponent(csvTemplate())}`}
      >
        {say.template}
      </a>
      <PickFile
        word={setup.importSheets}
        bytesMost={FILE_BYTES_MOST}
        onRead={read}
        onTable={readTable}
      />
      {previews.length > 0 && (
        <>
          <ul class="rows">
            {previews.map(({ sheet, name, is, fields }) => (
              <li key={sheet} data-preview={is}>
                <b>{name}</b>{' '}
                <span class="minor">
                  {[
                    setup.previews[is],
                    ...fields.map((field) => setup.fields[field] ?? field),
                  ].join(' · ')}
                </span>
              </li>
            ))}
          </ul>
          <div class="acts">
            <Press act="ImportSheets" isMain isOff={!isAny || sending.value.busy} onPress={take}>
              {isAny
                ? setup.importDo(previews.filter(({ is }) => is !== 'same').length)
                : setup.nothingNew}
            </Press>
          </div>
        </>
      )}
      <Answer sending={sending.value} now={now} />
    </section>
  )
}
