import { type Signal, useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useRef } from 'preact/hooks'
import * as v from 'valibot'
import { check } from '../../machines/accept.ts'
import type { CommandInput, CommandType } from '../../machines/commands.ts'
import { type ToldError, type ToldRefusal, wrongText } from '../commands/refusalText.ts'
import { isTaken } from '../commands/send.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { isRefused, useCommands } from '../commands/useCommands.ts'
import { Answer, Sentence } from '../ui/answer.tsx'
import { fromHere } from '../ui/here.ts'
import { setupIn } from '../words/setupIn.ts'
import { heldAt, read, written } from './draft.ts'
import { type Around, inWordsOf } from './fields.tsx'
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
  /** What the form begins with: the stored value that is being changed, or what is usual. */
  readonly original?: unknown
  /** `original` is what is stored: once it was saved, what was typed is that. */
  readonly isStored?: boolean
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
  /** Those that are drawn, of a form in steps; all of them without it. */
  readonly shown?: Fields
  /** A step of a form that is not the last: it cannot be sent from there. */
  readonly isPart?: boolean
  /** Keys to type with, beside the fields. */
  readonly keys?: ComponentChildren
  /** What is wrong, where its page shows that too. */
  readonly wrongs?: Signal<readonly ToldError[]>
  readonly onWrong?: (wrong: readonly ToldError[]) => void
  /** What a change of one field does to others. */
  readonly settle?: (draft: Draft) => Draft
  /** Where it leads when it is saved, while the screen is still the one that it was sent from. */
  readonly onSaved?: () => void
  /** What to do instead of what was refused, and what to call once that is done. */
  readonly wayOut?: (code: ToldRefusal['code'], onDone: () => void) => ComponentChildren
  /** Something else on its page comes first. */
  readonly isSecond?: boolean
  /** What stands below the fields; it may have fields of its own. */
  readonly children?: ComponentChildren | ((at: AtForm) => ComponentChildren)
}

/** What is wrong in a form, and how it is changed. */
export type AtForm = {
  readonly wrong: readonly ToldError[]
  readonly change: (to: Draft) => void
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
  const all = useWords()
  const setup = setupIn(all)
  const words = {
    fields: { ...setup.fields, ...fieldWords },
    choices: { ...all.stage, ...setup.choices },
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
  const setup = setupIn(words.value)
  const ownWrong = useSignal<readonly ToldError[]>([])
  const wrong = props.wrongs ?? ownWrong
  const isSaved = useSignal(false)
  const { page, show } = useFirstWrong()
  const { sending, give, again, clear } = useCommands()
  const spec = { kind: 'group', fields } as const
  /** Whether what is wrong was found here, where it can be looked at again after each change. */
  const isOwn = useRef(true)
  const checkedOf = (typed: Draft) => {
    const value = read(spec, typed) as object
    return check(props.schema, props.complete?.(value) ?? value)
  }
  const say = (errors: readonly ToldError[], areOwn = true) => {
    isOwn.current = areOwn
    wrong.value = errors
    props.onWrong?.(errors)
    show()
  }
  const submit = async (event: Event) => {
    event.preventDefault()
    clear()
    const checked = checkedOf(draft.value)
    if (!checked.ok) return say(checked.errors)
    wrong.value = []
    const isHere = fromHere()
    const sent = await give(props.type, props.data(checked.value))
    if (sent.kind === 'wrong')
      say(
        (sent.errors ?? [sent.error]).map((error) => ownField(error, props.under ?? 'data.')),
        false,
      )
    if (isTaken(sent)) saved(isHere)
  }
  const saved = (isHere: () => boolean) => {
    if (!props.isStored) draft.value = written(spec, original)
    isSaved.value = true
    if (isHere()) props.onSaved?.()
  }
  const change = (to: Draft) => {
    // An override is of what was refused: after a change it is asked for again.
    if (!sending.value.busy) clear()
    isSaved.value = false
    const had = draft.value
    draft.value = settle(to)
    if (wrong.value.length === 0) return
    // What is said of a field is about what was in it, and mending one field may mend another.
    const again = isOwn.current ? checkedOf(draft.value) : null
    const open = again === null ? null : again.ok ? [] : again.errors
    wrong.value = wrong.value.filter(
      ({ field = '' }) =>
        heldAt(draft.value, field) === heldAt(had, field) &&
        (open === null || open.some((error) => error.field === field)),
    )
  }
  const drawn = (
    <FieldsOf
      {...props}
      fields={props.shown ?? fields}
      wrong={wrong.value}
      draft={draft.value}
      onChange={change}
    />
  )
  const [first] = wrong.value
  const isSecond = props.isSecond || (props.wayOut && isRefused(sending.value, now))
  return (
    <form
      ref={page}
      class="form setup-form"
      data-form={props.name}
      onSubmit={(e) => void submit(e)}
    >
      {props.keys ? (
        <div class="with-keys">
          {drawn}
          <aside>{props.keys}</aside>
        </div>
      ) : (
        drawn
      )}
      {typeof children === 'function' ? children({ wrong: wrong.value, change }) : children}
      {first && (
        <Sentence>
          {wrongText(
            inWordsOf(first, { ...words.value.stage, ...setup.choices }),
            { words: words.value, format: format.value },
            { name: nameIn(first, { ...setup.fields, ...props.fieldWords }) },
          )}
        </Sentence>
      )}
      {sending.value.sent?.kind !== 'wrong' && (
        <Answer
          sending={sending.value}
          now={now}
          wayOut={(code) => props.wayOut?.(code, clear)}
          onOverride={(reason) => {
            const isHere = fromHere()
            void again(reason).then((isDone) => isDone && saved(isHere))
          }}
        />
      )}
      {isSaved.value && <p role="status">{setup.saved}</p>}
      {!props.isPart && (
        <button
          type="submit"
          class={isSecond ? '' : 'main'}
          data-act={props.type}
          disabled={sending.value.busy || props.isOff}
        >
          {word}
        </button>
      )}
    </form>
  )
}

/** The server names fields from the command's top; the form from its own. */
const ownField = ({ field = '', ...error }: ToldError, under: string): ToldError => ({
  ...error,
  field: field.startsWith(under) ? field.slice(under.length) : field,
})

/**
 * What a field is called in a sentence that does not stand beside it: by its path, else by the words on the
 * way to it.
 */
export function nameIn({ field = '' }: ToldError, words: Readonly<Record<string, string>>): string {
  const parts = field.split('.').filter((part) => !/^\d+$/.test(part))
  return words[field] ?? parts.map((part) => words[part] ?? part).join(': ')
}
