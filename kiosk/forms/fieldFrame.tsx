import type { ComponentChildren } from 'preact'
import { type ToldError, wrongText } from '../commands/refusalText.ts'
import { useShop } from '../commands/shop.ts'
import type { Draft, Spec } from './spec.ts'

/** What stands around every field of a form: its word, and what is wrong with it. */

type Names = Readonly<Record<string, string>>
/** What all fields of a form need: their words by path or name, and what is wrong where. */
export type FormWords = {
  readonly fields: Names
  readonly choices: Names
  /** Beside what may be left out. */
  readonly optional: string | null
}
export type FormContext = { readonly words: FormWords; readonly wrong: readonly ToldError[] }

export type Path = readonly (string | number)[]
export type ViewOf<S extends Spec> = {
  readonly form: FormContext
  readonly spec: S
  readonly draft: Draft
  readonly path: Path
  readonly optional?: boolean
  readonly onChange: (to: Draft) => void
}
export type Kind<K extends Spec['kind']> = Extract<Spec, { kind: K }>

export const nameOf = (path: Path): string => path.join('.')

/** The words of a field's whole path, else of its name; rows of a list are counted. */
export function wordOf({ form: { words }, path, optional }: ViewOf<Spec>): string {
  const own = (at: Path): string => {
    const last = at.at(-1)
    const word = words.fields[nameOf(at)] ?? words.fields[`${last}`]
    return (
      word ?? (typeof last === 'number' ? `${own(at.slice(0, -1))} ${last + 1}` : `${last ?? ''}`)
    )
  }
  return optional && words.optional !== null ? `${own(path)} (${words.optional})` : own(path)
}

/** What is wrong with one field, in a sentence that stands beside it. */
export function useWrong({ form: { wrong }, path }: ViewOf<Spec>, typed?: string): string | null {
  const { words, format } = useShop()
  const error = wrong.find(({ field }) => field === nameOf(path))
  if (error === undefined) return null
  const at = { name: null, ...(typed === undefined ? {} : { typed }) }
  return wrongText(error, { words: words.value, format: format.value }, at)
}

export function Wrong(props: ViewOf<Spec>) {
  const sentence = useWrong(props)
  return (
    sentence !== null && (
      <p class="sentence" role="alert">
        {sentence}
      </p>
    )
  )
}

/** Several fields under one word. */
export function Framed({ children, ...props }: ViewOf<Spec> & { children: ComponentChildren }) {
  return (
    <fieldset class="group" data-field={nameOf(props.path)}>
      <legend>{wordOf(props)}</legend>
      {children}
      <Wrong {...props} />
    </fieldset>
  )
}
