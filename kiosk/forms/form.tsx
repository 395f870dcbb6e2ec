import { type Signal, useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import * as v from 'valibot'
import { check } from '../../machines/accept.ts'
import type { CommandInput, CommandType } from '../../machines/commands.ts'
import { type ToldError, wrongText } from '../commands/refusalText.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer } from '../ui/answer.tsx'
import { type Env, read, written } from './draft.ts'
import { GroupView } from './fieldView.tsx'
import { type Draft, type Fields, group } from './spec.ts'
import { useDraft } from './useDraft.ts'

/** What a form keeps through a reload is what was typed: an object of texts, lists and objects. */
const isDraft = (value: unknown): value is Draft =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
const draftSchema = v.custom<Draft>(isDraft)

type Props<T extends CommandType, V> = {
  /** Names what is kept through a reload. */
  readonly name: string
  readonly fields: Fields
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
  readonly onSaved?: () => void
  readonly children?: ComponentChildren
}

export function useEnv(): Env {
  const { format } = useShop()
  const { units, comma } = format.value
  return { units, comma }
}

/** What was typed, kept under a name and the units that it was typed in. */
export function useForm(name: string, fields: Fields, original?: unknown): Signal<Draft> {
  const env = useEnv()
  const key = `draft.setup.${name}.${JSON.stringify(env.units ?? {})}`
  return useDraft(key, draftSchema, () => written(group(fields), original, env))
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
  const { fields, original, now, word, children } = props
  const env = useEnv()
  const error = useSignal<ToldError | null>(null)
  const isSaved = useSignal(false)
  const { sending, give, clear } = useCommands()
  const spec = group(fields)
  const change = (to: Draft) => {
    isSaved.value = false
    draft.value = to
  }
  const submit = async (event: Event) => {
    event.preventDefault()
    clear()
    const value = read(spec, draft.value, env, original) as object
    const checked = check(props.schema, props.complete?.(value) ?? value)
    error.value = checked.ok ? null : checked.error
    if (!checked.ok) return
    const sent = await give(props.type, props.data(checked.value))
    if (sent.kind === 'wrong') error.value = ownField(sent.error, props.under ?? 'data.')
    if (!isTaken(sent)) return
    draft.value = written(spec, original, env)
    isSaved.value = true
    props.onSaved?.()
  }
  return (
    <form class="setup-form" data-form={props.name} onSubmit={(e) => void submit(e)}>
      <GroupView
        spec={{ kind: 'group', fields }}
        draft={draft.value}
        path={[]}
        word=""
        error={error.value}
        onChange={change}
      />
      {children}
      {error.value && (
        <p class="sentence" role="alert">
          {wrongText(error.value, { words: words.value, format: format.value })}
        </p>
      )}
      {sending.value.sent?.kind !== 'wrong' && <Answer sending={sending.value} now={now} />}
      {isSaved.value && <p role="status">{words.value.setup.saved}</p>}
      <button type="submit" class="main" data-act={props.type} disabled={sending.value.busy}>
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
