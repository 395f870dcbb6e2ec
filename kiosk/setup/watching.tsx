import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { WatchingAnswer } from '../../machines/contract/watching.ts'
import { useOutbox, useShop } from '../commands/shop.ts'
import { Sentence } from '../ui/answer.tsx'
import * as own from '../words/watching.ts'
import { useOwnWords } from '../words/words.ts'
import type { SectionProps } from './things.tsx'
import { PARTS, type Part, type PartName, partsOf } from './watchingParts.ts'

/** How often the server is asked again. */
const EVERY_MS = 10_000

/** Null where the server does not answer. */
async function asked(): Promise<WatchingAnswer | null> {
  try {
    const response = await fetch('/api/watching', { cache: 'no-store' })
    return response.ok ? await response.json() : null
  } catch {
    return null
  }
}

/** How log, disk, backup, clock, kiosks and labels stand, in words, and what to do about each. */
export function Watching({ state, now }: SectionProps) {
  const { words, format } = useShop()
  const say = useOwnWords(own)
  const device = useOutbox()?.device.value ?? ''
  const last = useSignal<WatchingAnswer | null>(null)
  const isAway = useSignal(false)
  useEffect(() => {
    let isWanted = true
    void asked().then((answer) => {
      if (!isWanted) return
      isAway.value = answer === null
      if (answer) last.value = answer
    })
    return () => {
      isWanted = false
    }
  }, [Math.floor(now / EVERY_MS)])
  const answer = last.value
  const { date, time } = format.value
  if (answer === null) return <p role="status">{isAway.value ? say.away : say.reading}</p>
  const telling = { say, words: words.value, format: format.value, state, device }
  const parts = partsOf(answer, telling)
  return (
    <>
      {isAway.value && (
        <Sentence>{say.asOf(`${date(answer.nowMs, now)} ${time(answer.nowMs)}`)}</Sentence>
      )}
      <div class="columns watching">
        {PARTS.map((name) => (
          <OnePart key={name} name={name} title={say.parts[name]} part={parts[name]} />
        ))}
      </div>
    </>
  )
}

type OnePartProps = { readonly name: PartName; readonly title: string; readonly part: Part }

function OnePart({ name, title, part: { is, lines, goTo } }: OnePartProps) {
  const [first = '', ...rest] = lines
  return (
    <section class="stack" data-part={name} data-is={is}>
      <h2>{title}</h2>
      <p class={is === 'todo' ? 'sentence' : undefined}>{first}</p>
      {rest.map((line) => (
        <p class="minor" key={line}>
          {line}
        </p>
      ))}
      {goTo && (
        <div class="choices">
          <a class="button" href={goTo.hash}>
            {goTo.word}
          </a>
        </div>
      )}
    </section>
  )
}
