import type { Drawings, ToDraw } from './labelWorker.ts'
import { type Thread, threadOf } from './thread.ts'

/**
 * Labels are drawn on a thread of their own: loading what draws them, and a whole label before the engine has
 * compiled it, take longer than anybody else's answer should wait. It begins with the first label, or with `warm`.
 */
export type LabelThread = Drawings & Pick<Thread<ToDraw, string | Uint8Array>, 'end'>

export function labelThread(): LabelThread {
  const thread = threadOf<ToDraw, string | Uint8Array>(
    new URL('./labelWorker.ts', import.meta.url),
    'that draws labels',
  )
  const drawn = (form: keyof Drawings) =>
    ((...given: readonly unknown[]) => thread.ask({ form, given })) as never
  return {
    ...{ svg: drawn('svg'), png: drawn('png'), pdf: drawn('pdf'), raster: drawn('raster') },
    warm: drawn('warm'),
    end: thread.end,
  }
}

/** The one of this process. */
export const labels = labelThread()
