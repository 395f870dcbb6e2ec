import type { ComponentChildren } from 'preact'

/** A part of the day's page, with its title. */
export function Group({
  title,
  children,
}: {
  readonly title: string
  readonly children: ComponentChildren
}) {
  return (
    <section class="day-group">
      <h2>{title}</h2>
      {children}
    </section>
  )
}
