import { contextOf, type State } from '../../machines/state.ts'
import type { QueuedCommand } from './queuedCommand.ts'

/** What a waiting command is about. Pure. */

type Named = {
  readonly panel?: string
  readonly panels?: readonly string[]
  readonly job?: string
  readonly cup?: string
  readonly gun?: string
  readonly zone?: string
  readonly title?: string
  readonly name?: string
}

const SHORT = 4

/** Panels by name, then cup, gun, job and zone, as far as a command names them. */
export function subjectOf(state: State | null, { command }: QueuedCommand): string {
  const { panel, panels, job, cup, gun, zone, title, name } = command.data as Named
  const named = [...(panels ?? []), ...(panel === undefined ? [] : [panel])].map(
    (id) => (state && contextOf(state, 'panel', id)?.name) || name || id,
  )
  const jobTitle = title ?? (state && job !== undefined && contextOf(state, 'job', job)?.title)
  return [...named, cup?.slice(0, SHORT), gun, named.length === 0 && (jobTitle || job), zone]
    .filter((text) => typeof text === 'string' && text !== '')
    .join(' · ')
}

/** The panels that something waits for here: what the Wall shows of them is not in the log yet. */
export function panelsIn(queue: readonly QueuedCommand[]): ReadonlySet<string> {
  return new Set(
    queue.flatMap(({ command }) => {
      const { panel, panels } = command.data as Named
      return [...(panels ?? []), ...(panel === undefined ? [] : [panel])]
    }),
  )
}
