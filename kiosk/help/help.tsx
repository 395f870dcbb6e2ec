import { PageHead } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/screen.tsx'
import * as own from '../words/help.ts'
import { useOwnWords } from '../words/words.ts'

const TOUR = 'tour'
const WALL = 'wall'

/** What a screen is for and how it is used; or one step of the tour of the Wall. */
export function Help({ rest: [of = WALL, at] }: ViewProps) {
  return of === TOUR ? <Tour at={Number(at ?? 0)} /> : <About of={of} />
}

function About({ of }: { of: string }) {
  const say = useOwnWords(own)
  const page = say.pages[of] ?? say.pages[WALL]
  return (
    <div class="form help">
      <PageHead title={page?.title ?? say.help} back={say.back} backTo={hashOf(of)} />
      <ul>
        {page?.lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <p class="sentence">{say.maker}</p>
      <div class="acts">
        <a class="button" data-act="tour" href={hashOf('help', TOUR)}>
          {say.tour}
        </a>
      </div>
      <nav class="acts" aria-label={say.help}>
        {Object.entries(say.pages)
          .filter(([name]) => name !== of)
          .map(([name, { title }]) => (
            <a class="button" key={name} href={hashOf('help', name)}>
              {title}
            </a>
          ))}
      </nav>
    </div>
  )
}

function Tour({ at }: { at: number }) {
  const say = useOwnWords(own)
  const n = Math.min(Math.max(0, Math.trunc(at) || 0), say.steps.length - 1)
  const step = say.steps[n]
  const isLast = n === say.steps.length - 1
  return (
    <div class="form help" data-tour={n}>
      <p class="minor digits">{say.stepOf(n + 1, say.steps.length)}</p>
      <h2>{step?.title}</h2>
      {step?.lines.map((line) => (
        <p key={line}>{line}</p>
      ))}
      <div class="acts">
        <a
          class="button main"
          data-act="tourNext"
          href={isLast ? hashOf(WALL) : hashOf('help', TOUR, String(n + 1))}
        >
          {isLast ? say.done : say.next}
        </a>
        {!isLast && (
          <a class="button" data-act="tourSkip" href={hashOf(WALL)}>
            {say.skip}
          </a>
        )}
      </div>
    </div>
  )
}
