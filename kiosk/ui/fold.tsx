import type { ComponentChildren } from 'preact'

type Props = {
  readonly word: string
  /** Tells this fold from others on the page. */
  readonly act: string
  /** Open from the beginning, or as soon as something in it is wrong. */
  readonly isOpen?: boolean
  readonly children: ComponentChildren
}

/** What is seldom needed: opens on a touch. */
export function Fold({ word, act, isOpen = false, children }: Props) {
  return (
    <details class="fold" data-fold={act} open={isOpen}>
      <summary class="button">{word}</summary>
      <div class="fold-body">{children}</div>
    </details>
  )
}
