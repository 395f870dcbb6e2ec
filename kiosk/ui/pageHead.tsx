import type { ComponentChildren } from 'preact'

type Props = {
  readonly title: string
  readonly back: string
  readonly backTo: string
  readonly children?: ComponentChildren
}

/** The head of a page below a list: the way back, and what this is. */
export function PageHead({ title, back, backTo, children }: Props) {
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
