import { type ToldError, wrongText } from '../commands/refusalText.ts'
import { useShop } from '../commands/shop.ts'
import { Choice, worded } from '../ui/choice.tsx'
import { doubtOf } from '../units/doubt.ts'
import { unitOf } from '../units/measure.ts'
import type { Draft, Spec } from './spec.ts'

/** Fields that hold one thing. */

export type Path = readonly (string | number)[]
export type ViewOf<S extends Spec> = {
  readonly spec: S
  readonly draft: Draft
  readonly path: Path
  readonly word: string
  readonly error: ToldError | null
  readonly onChange: (to: Draft) => void
}

export type Kind<K extends Spec['kind']> = Extract<Spec, { kind: K }>

export const nameOf = (path: Path): string => path.join('.')
export const isWrong = (error: ToldError | null, path: Path): boolean =>
  error !== null && error.field === nameOf(path)

/** The server's or the schema's sentence, under the field that it is about. */
export function Sentence(props: { error: ToldError | null; path: Path; typed?: string }) {
  const { error, path, typed } = props
  const { words, format } = useShop()
  if (error === null || !isWrong(error, path)) return null
  return (
    <span class="sentence" role="alert">
      {wrongText(
        error,
        { words: words.value, format: format.value },
        { name: null, ...(typed === undefined ? {} : { typed }) },
      )}
    </span>
  )
}

export function TextView({ draft, path, word, error, onChange }: ViewOf<Kind<'text'>>) {
  return (
    <label class="field">
      <span class="minor">{word}</span>
      <input
        type="text"
        name={nameOf(path)}
        autocomplete="off"
        aria-invalid={isWrong(error, path)}
        value={String(draft)}
        onInput={(e) => onChange(e.currentTarget.value)}
      />
      <Sentence error={error} path={path} />
    </label>
  )
}

export function NumberView({ spec, draft, path, word, error, onChange }: ViewOf<Kind<'number'>>) {
  const { words, format } = useShop()
  const text = String(draft)
  const unit = spec.unit ?? unitOf(spec.measure, format.value.units).word
  const doubt = doubtOf(text, spec.measure, format.value.units)
  return (
    <div class="number-field">
      <label class="field">
        <span class="minor">{unit === '' ? word : `${word}, ${unit}`}</span>
        <input
          type="text"
          inputmode="decimal"
          class="digits"
          name={nameOf(path)}
          autocomplete="off"
          aria-invalid={isWrong(error, path)}
          value={text}
          onInput={(e) => onChange(e.currentTarget.value)}
        />
      </label>
      {doubt && (
        <button type="button" data-doubt={nameOf(path)} onClick={() => onChange(doubt.typed)}>
          {words.value.setup.doubt(text, doubt.unit, `${doubt.typed} ${unit}`)}
        </button>
      )}
      <Sentence error={error} path={path} typed={text} />
    </div>
  )
}

export function ChoiceView({ spec, draft, path, word, error, onChange }: ViewOf<Kind<'choice'>>) {
  const { words } = useShop()
  const stages: Record<string, string> = words.value.stage
  const { choices } = words.value.setup
  // The base of a percentage is not the stage of that name.
  const wordOf = (value: string) =>
    choices[`${path.at(-1)}.${value}`] ?? choices[value] ?? stages[value] ?? value
  return (
    <div data-field={nameOf(path)}>
      <Choice
        word={word}
        options={worded(spec.of, wordOf)}
        picked={String(draft)}
        // The same choice once more clears it: an optional field can be left open again.
        onPick={(value) => onChange(value === draft ? '' : value)}
      />
      <Sentence error={error} path={path} />
    </div>
  )
}

export function YesNoView({ draft, path, word, error, onChange }: ViewOf<Kind<'yesNo'>>) {
  const { words } = useShop()
  const { yes, no } = words.value.setup
  return (
    <div data-field={nameOf(path)}>
      <Choice
        word={word}
        options={worded(['yes', 'no'], (value) => (value === 'yes' ? yes : no))}
        picked={String(draft)}
        onPick={onChange}
      />
      <Sentence error={error} path={path} />
    </div>
  )
}
