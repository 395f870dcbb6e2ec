import type { ComponentChildren } from 'preact'

type FieldProps = {
  readonly name: string
  readonly word: string
  readonly value: string
  readonly onInput: (text: string) => void
  readonly required?: boolean
}

/** A line to type in. What is typed stays through a refusal and a lost server. */
export function Field({ name, word, value, onInput, required = false }: FieldProps) {
  return (
    <label class="field">
      <span class="minor">{word}</span>
      <input
        type="text"
        name={name}
        autocomplete="off"
        required={required}
        value={value}
        onInput={(e) => onInput(e.currentTarget.value)}
      />
    </label>
  )
}

type OptionsProps = {
  readonly name: string
  readonly of: readonly string[]
  readonly word: (value: string) => string
  readonly picked: string | null
  readonly onPick: (value: string) => void
}

/** One of a few, as buttons. The chosen one has a tick: fill alone is a colour. */
export function Options({ name, of, word, picked, onPick }: OptionsProps) {
  return (
    <fieldset class="choice options">
      <legend class="minor">{name}</legend>
      {of.map((value) => (
        <button
          type="button"
          key={value}
          data-value={value}
          aria-pressed={picked === value}
          onClick={() => onPick(value)}
        >
          {picked === value && <Tick />}
          {word(value)}
        </button>
      ))}
    </fieldset>
  )
}

export const Tick = () => (
  <span class="tick" aria-hidden="true">
    ✓
  </span>
)

type FoldProps = {
  readonly word: string
  readonly act: string
  readonly children: ComponentChildren
}

/** What is seldom wanted: opens on a touch. */
export function Fold({ word, act, children }: FoldProps) {
  return (
    <details class="fold" data-fold={act}>
      <summary class="button">{word}</summary>
      <div class="fold-body">{children}</div>
    </details>
  )
}

/** The head of a page below the list: its name, and the way back. */
export function PageHead({
  title,
  back,
  backTo,
  children,
}: {
  readonly title: string
  readonly back: string
  readonly backTo: string
  readonly children?: ComponentChildren
}) {
  return (
    <div class="page-head">
      <a class="button" href={backTo}>
        {back}
      </a>
      <h2>{title}</h2>
      {children}
    </div>
  )
}
