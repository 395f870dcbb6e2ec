import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { FoundLaterAnswer, LateJob } from '../../machines/contract/foundLater.ts'
import { useShop } from '../commands/shop.ts'
import { hashOf } from '../ui/route.ts'
import * as own from '../words/find.ts'
import { useOwnWords } from '../words/words.ts'

/**
 * When the server is asked again: after a long log was read for the first time there is more to look at than one
 * answer holds, and an answer that failed says nothing.
 */
const AGAIN_MS = 2_000

/** Null where nobody answers. */
async function ask(): Promise<FoundLaterAnswer | null> {
  try {
    const response = await fetch('/api/jobs/foundLater')
    return response.ok ? ((await response.json()) as FoundLaterAnswer) : null
  } catch {
    return null
  }
}

/**
 * Jobs of which something late showed that a limit was broken: a close could not ask about it.
 * @param job only this one, on its own page
 */
export function FoundLater({ job }: { readonly job?: string }) {
  const { state, link } = useShop()
  const say = useOwnWords(own)
  const told = useSignal<readonly LateJob[] | null>(null)
  // What comes late may come while somebody looks.
  const head = state.value?.head
  useEffect(() => {
    let [isWanted, next]: [boolean, ReturnType<typeof setTimeout> | undefined] = [true, undefined]
    const look = async () => {
      const answer = await ask()
      if (!isWanted) return
      if (answer !== null) told.value = answer.jobs
      const isWhole = answer !== null && answer.toLook + answer.behind === 0
      if (!isWhole && link.value !== 'away') next = setTimeout(look, AGAIN_MS)
    }
    // Entries come in numbers: they are asked about together.
    next = setTimeout(look, told.peek() === null ? 0 : AGAIN_MS)
    return () => {
      isWanted = false
      clearTimeout(next)
    }
  }, [head, link.value])
  const shown = told.value?.filter((one) => job === undefined || one.job === job) ?? []
  if (shown.length === 0) return null
  return (
    <section class="stack" aria-label={say.foundLater}>
      {job === undefined && <h2>{say.foundLater}</h2>}
      <ul class="rows job-rows">
        {shown.map(({ job: id, title, found, isClosed }) => (
          <li key={id}>
            <a class="button row" href={hashOf('trace', id)} data-found={id}>
              <b>! {isClosed ? say.foundSinceClosed(found) : say.foundSinceTold(found)}</b>
              <span class="minor">
                {[job === undefined ? `${title} · ${id}` : '', say.decideFound]
                  .filter((text) => text !== '')
                  .join(' · ')}
              </span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  )
}
