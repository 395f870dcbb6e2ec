import type { ComponentChildren } from 'preact'
import { useId } from 'preact/hooks'
import { type ToldError, wrongText } from '../commands/refusalText.ts'
import { useShop } from '../commands/shop.ts'
import { Sentence } from '../ui/answer.tsx'
import type { Option } from '../ui/parts.tsx'
import { type Measure, unitOf } from '../units/measure.ts'
import { setupIn } from '../words/setupIn.ts'
import { doubtOf } from './draft.ts'
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
/** What a field is chosen from by touch, instead of being typed. */
export type Offer = {
  readonly options: readonly Option[]
  /** A key for what is not offered, and the word of the field that it is then typed into. */
  readonly other?: { readonly word: string; readonly asks: string }
  /** Of rows that are chosen: what an option fills in of its row, its value first. The rest is asked for. */
  readonly fills?: readonly string[]
  /** Of a text: each touch puts one into it or takes it out, with commas between. */
  readonly areSeveral?: boolean
}
/** What a page knows about the fields of its form, by their paths. */
export type Around = {
  /** What counts where nothing is given: it is shown in the field, and moves with what it comes from. */
  readonly proposed?: Readonly<Record<string, Draft | null | undefined>>
  readonly offers?: Readonly<Record<string, Offer>>
  /** Whether the page calculates with what is typed as it is typed. */
  readonly isLive?: boolean
}
type FormContext = Around & { readonly words: FormWords; readonly wrong: readonly ToldError[] }

type Path = readonly (string | number)[]
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

/** What counts for a field: what is given, else what is proposed. */
export const countsIn = ({ form, path, draft }: ViewOf<Spec>): Draft =>
  draft === '' ? (form.proposed?.[nameOf(path)] ?? '') : draft

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

/** An error about a choice, which names what may be chosen as its keys do. */
export function inWordsOf(error: ToldError, choices: Names): ToldError {
  const { field = '', params } = error
  const { words } = (params ?? {}) as { words?: readonly string[] }
  if (!Array.isArray(words)) return error
  const key = field.split('.').at(-1)
  const said = words.map((word) => choices[`${key}.${word}`] ?? choices[word] ?? word)
  return { ...error, params: { ...params, words: said } }
}

/** What is wrong with one field, in a sentence that stands beside it. */
export function useWrong({ form, path }: ViewOf<Spec>, typed?: string): string | null {
  const { words, format } = useShop()
  const found = form.wrong.find(({ field }) => field === nameOf(path))
  if (found === undefined) return null
  const error = inWordsOf(found, form.words.choices)
  const at = { name: null, ...(typed === undefined ? {} : { typed }) }
  return wrongText(error, { words: words.value, format: format.value }, at)
}

export function Wrong(props: ViewOf<Spec>) {
  const sentence = useWrong(props)
  return sentence !== null && <Sentence>{sentence}</Sentence>
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

type FieldProps = {
  readonly name: string
  readonly word: string
  readonly value: string
  readonly onInput: (text: string) => void
  readonly required?: boolean
  /** The most characters that it takes. */
  readonly most?: number
  readonly isNumber?: boolean
  /** Written after what is typed. */
  readonly unit?: string
  /** What is wrong with it, in a sentence. */
  readonly wrong?: string | null
  /** A number to step with gloves on, up by 1 or down by -1. */
  readonly onStep?: ((by: 1 | -1) => void) | null
  readonly onLeave?: () => void
  /** What stands below it. */
  readonly children?: ComponentChildren
}

/** A line to type in. What is typed stays through a refusal and a lost server. */
export function Field(props: FieldProps) {
  const { name, word, value, unit = '', wrong = null, isNumber = false, onStep } = props
  const id = useId()
  const step = (by: 1 | -1, sign: string) =>
    onStep && (
      <button type="button" aria-label={`${word} ${sign}`} onClick={() => onStep(by)}>
        {sign}
      </button>
    )
  return (
    <div class="field" data-field={name} data-repeat={onStep && ''}>
      <label class="minor" for={id}>
        {word}
      </label>
      <span class="with-unit">
        {step(-1, '−')}
        <input
          type="text"
          id={id}
          name={name}
          autocomplete="off"
          inputmode={isNumber ? 'decimal' : 'text'}
          required={props.required}
          maxLength={props.most}
          aria-invalid={wrong !== null}
          aria-describedby={wrong === null ? undefined : `${id}-wrong`}
          value={value}
          onInput={(e) => props.onInput(e.currentTarget.value)}
          onBlur={props.onLeave}
        />
        {unit !== '' && <span>{unit}</span>}
        {step(1, '+')}
      </span>
      {props.children}
      {wrong !== null && (
        <p class="sentence" role="alert" id={`${id}-wrong`}>
          {wrong}
        </p>
      )}
    </div>
  )
}

type DoubtProps = {
  readonly name: string
  readonly text: string
  readonly measure: Measure
  readonly onMeant: (typed: string, si: number) => void
}

/** Asks whether a number was meant in the other unit: 29 as bar. A touch takes it. */
export function Doubt({ name, text, measure, onMeant }: DoubtProps) {
  const { words, format } = useShop()
  const { units } = format.value
  const doubt = doubtOf(text, measure, units)
  if (doubt === null) return null
  const meant = `${doubt.typed} ${unitOf(measure, units).word}`
  return (
    <button type="button" data-doubt={name} onClick={() => onMeant(doubt.typed, doubt.stored)}>
      {setupIn(words.value).doubt(text, doubt.unit, meant)}
    </button>
  )
}
