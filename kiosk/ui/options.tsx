import type { ComponentChildren } from 'preact'

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

/** What is seldom needed: opens on a touch. */
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
