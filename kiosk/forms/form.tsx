import { type Signal, useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useRef } from 'preact/hooks'
import * as v from 'valibot'
import { check } from '../../machines/accept.ts'
import type { CommandInput, CommandType } from '../../machines/commands.ts'
import { type ToldError, wrongText } from '../commands/refusalText.ts'
import { isTaken } from '../commands/send.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer, Sentence } from '../ui/answer.tsx'
import { heldAt, read, written } from './draft.ts'
import type { Around } from './fields.tsx'
import { GroupView } from './fieldView.tsx'
import type { Draft, Fields } from './spec.ts'
import { useDraft } from './useDraft.ts'

/** What a form keeps through a reload is what was typed: an object of texts, lists and objects. */
const isDraft = (value: unknown): value is Draft =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
const draftSchema = v.custom<Draft>(isDraft)

type FieldsProps = Around & {
  readonly fields: Fields
  /** The words of its fields, by path or name, where Setup's do not fit. */
  readonly fieldWords?: Readonly<Record<string, string>>
}

type Props<T extends CommandType, V> = FieldsProps & {
  /** Names what is kept through a reload. */
  readonly name: string
  /** The stored value that is being changed. */
  readonly original?: unknown
  readonly schema: v.GenericSchema<unknown, V>
  /** The value with what no field asks for, such as an id. */
  readonly complete?: (value: object) => object
  readonly type: T
  readonly data: (value: V) => CommandInput<T>
  /** The path before a field's own name in the server's answer. */
  readonly under?: string
  readonly now: number
  readonly word: string
  /** Whether it cannot be sent as it is, for a reason that the page shows. */
  readonly isOff?: boolean
  /** What a change of one field does to others. */
  readonly settle?: (draft: Draft) => Draft
  readonly onSaved?: () => void
  readonly children?: ComponentChildren
}

/** What was typed, kept under a name. */
export const useFormDraft = (name: string, empty: () => Draft, store?: Storage): Signal<Draft> =>
  useDraft(`form.${name}`, draftSchema, empty, store)

/** A form of Setup, filled from a stored value. */
export const useForm = (name: string, fields: Fields, original?: unknown): Signal<Draft> =>
  useFormDraft(`setup.${name}`, () => written({ kind: 'group', fields }, original))

/** @returns brings the first wrong field into view, when the page shows it */
export function useFirstWrong() {
  const page = useRef<HTMLFormElement>(null)
  const show = () =>
    requestAnimationFrame(() =>
      page.current?.querySelector<HTMLElement>('[aria-invalid=true]')?.focus(),
    )
  return { page, show }
}

type FieldsOfProps = FieldsProps & {
  readonly draft: Draft
  readonly wrong?: readonly ToldError[]
  readonly onChange: (to: Draft) => void
}

/** The fields of a form, where its page has its own keys. */
export function FieldsOf(props: FieldsOfProps) {
  const { fields, draft, wrong = [], fieldWords, onChange, ...around } = props
  const { setup, stage } = useWords()
  const words = {
    fields: { ...setup.fields, ...fieldWords },
    choices: { ...stage, ...setup.choices },
    optional: null,
  }
  return (
    <GroupView
      form={{ ...around, words, wrong }}
      spec={{ kind: 'group', fields }}
      draft={draft}
      path={[]}
      onChange={onChange}
    />
  )
}

/** A form that says in a sentence what is wrong, and keeps what was typed until it is accepted. */
export function Form<T extends CommandType, V>(props: Props<T, V>) {
  const draft = useForm(props.name, props.fields, props.original)
  return <FormOf {...props} draft={draft} />
}

/** The same, of contents that others fill too. */
export function FormOf<T extends CommandType, V>({
  draft,
  ...props
}: Props<T, V> & { readonly draft: Signal<Draft> }) {
  const { words, format } = useShop()
  const { fields, original, now, word, children, settle = (to) => to } = props
  const { setup } = words.value
  const wrong = useSignal<readonly ToldError[]>([])
  const isSaved = useSignal(false)
  const { page, show } = useFirstWrong()
  const { sending, give, again, clear } = useCommands()
  const spec = { kind: 'group', fields } as const
  const say = (errors: readonly ToldError[]) => {
    wrong.value = errors
    show()
  }
  const submit = async (event: Event) => {
    event.preventDefault()
    clear()
    const value = read(spec, draft.value) as object
    const checked = check(props.schema, props.complete?.(value) ?? value)
    if (!checked.ok) return say(checked.errors)
    wrong.value = []
    const sent = await give(props.type, props.data(checked.value))
    if (sent.kind === 'wrong')
      say((sent.errors ?? [sent.error]).map((error) => ownField(error, props.under ?? 'data.')))
    if (isTaken(sent)) saved()
  }
  const saved = () => {
    draft.value = written(spec, original)
    isSaved.value = true
    props.onSaved?.()
  }
  const [first] = wrong.value
  return (
    <form
      ref={page}
      class="form setup-form"
      data-form={props.name}
      onSubmit={(e) => void submit(e)}
    >
      <FieldsOf
        {...props}
        wrong={wrong.value}
        draft={draft.value}
        onChange={(to) => {
          // An override is of what was refused: after a change it is asked for again.
          if (!sending.value.busy) clear()
          isSaved.value = false
          const had = draft.value
          draft.value = settle(to)
          // What is said of a field is about what was in it.
          wrong.value = wrong.value.filter(
            ({ field = '' }) => heldAt(draft.value, field) === heldAt(had, field),
          )
        }}
      />
      {children}
      {first && (
        <Sentence>
          {wrongText(
            first,
            { words: words.value, format: format.value },
            { name: nameIn(first, { ...setup.fields, ...props.fieldWords }) },
          )}
        </Sentence>
      )}
      {sending.value.sent?.kind !== 'wrong' && (
        <Answer
          sending={sending.value}
          now={now}
          onOverride={(reason) => void again(reason).then((isDone) => isDone && saved())}
        />
      )}
      {isSaved.value && <p role="status">{setup.saved}</p>}
      <button
        type="submit"
        class="main"
        data-act={props.type}
        disabled={sending.value.busy || props.isOff}
      >
        {word}
      </button>
    </form>
  )
}

/** The server names fields from the command's top; the form from its own. */
const ownField = ({ field = '', ...error }: ToldError, under: string): ToldError => ({
  ...error,
  field: field.startsWith(under) ? field.slice(under.length) : field,
})

/** A wrong field's word: that of its path, else of its own name, which is parts in "components.0.parts". */
function nameIn({ field = '' }: ToldError, words: Readonly<Record<string, string>>): string {
  const name = field.split('.').findLast((part) => !/^\d+$/.test(part)) ?? field
  return words[field] ?? words[name] ?? name
}
