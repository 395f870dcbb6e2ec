import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useShop } from '../commands/shop.ts'
import { hashOf } from './route.ts'

export type Option = {
  readonly value: string
  readonly word: string
  readonly small?: string
  /** A drawing before the word: the path of an SVG, filled by the even-odd rule, in 100 by 100. */
  readonly picture?: string
}
type ChoiceProps = {
  /** Tells this choice from others on the page. */
  readonly name?: string
  readonly word?: string
  /** One, or for several the list of those that are picked; null for none yet. */
  readonly picked: string | readonly string[] | null
  readonly options: readonly Option[]
  readonly onPick: (value: string) => void
}

/** A few to choose from, as buttons: no list to unfold with gloves on. The chosen one has a tick: fill alone is a color. */
export function Choice({ name, word, picked, options, onPick }: ChoiceProps) {
  const isPicked = (value: string) =>
    picked === value || (Array.isArray(picked) && picked.includes(value))
  return (
    <fieldset class="choice" data-pick={name}>
      {word !== undefined && <legend class="minor">{word}</legend>}
      {options.map(({ value, word: says, small, picture }) => (
        <button
          type="button"
          key={value}
          data-value={value}
          aria-pressed={isPicked(value)}
          onClick={() => onPick(value)}
        >
          {isPicked(value) && <Tick />}
          {picture && (
            <svg viewBox="0 0 100 100" width="56" height="56" aria-hidden="true">
              <path fill="currentColor" fill-rule="evenodd" d={picture} />
            </svg>
          )}
          <span>
            {says}
            {small !== undefined && <small>{small}</small>}
          </span>
        </button>
      ))}
    </fieldset>
  )
}

/** Options of which each value has its word. */
export const worded = (
  values: readonly string[],
  wordOf: (value: string) => string,
): readonly Option[] => values.map((value) => ({ value, word: wordOf(value) }))

export const Tick = () => (
  <span class="tick" aria-hidden="true">
    ✓
  </span>
)

type FoldProps = {
  readonly word: string
  /** Tells this fold from others on the page. */
  readonly act: string
  /** Open from the beginning, or as soon as something in it is wrong. */
  readonly isOpen?: boolean
  /** As a function they are made when it is first opened: what is long or many costs nothing before. */
  readonly children: ComponentChildren | (() => ComponentChildren)
}

/** What is seldom needed: opens on a touch. */
export function Fold({ word, act, isOpen = false, children }: FoldProps) {
  const wasOpen = useSignal(isOpen)
  const onToggle = (e: { readonly currentTarget: HTMLDetailsElement }) => {
    if (e.currentTarget.open) wasOpen.value = true
  }
  const made = typeof children === 'function' ? wasOpen.value && children() : children
  return (
    <details class="fold" data-fold={act} open={isOpen} onToggle={onToggle}>
      <summary class="button">{word}</summary>
      <div class="fold-body">{made}</div>
    </details>
  )
}

type PageHeadProps = {
  readonly title: string
  readonly back: string
  readonly backTo: string
  readonly children?: ComponentChildren
}

/** The head of a page below a list: the way back, and what this is. */
export function PageHead({ title, back, backTo, children }: PageHeadProps) {
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

const PARTS = { mix: 'bench', cups: 'cups', calculator: 'calculator' } as const

/** The parts of the Bench: mixing, what is mixed, the calculator. */
export function Parts({ shown }: { shown: keyof typeof PARTS }) {
  const { words } = useShop()
  return (
    <div class="parts">
      {(Object.keys(PARTS) as (keyof typeof PARTS)[]).map((part) => (
        <a
          class="button"
          key={part}
          href={hashOf(PARTS[part])}
          aria-current={part === shown ? 'page' : undefined}
        >
          {words.value.bench.parts[part]}
        </a>
      ))}
    </div>
  )
}
