import { useLayoutEffect, useRef } from 'preact/hooks'
import { PageHead } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/screen.tsx'
import * as own from '../words/help.ts'
import { useOwnWords } from '../words/words.ts'
import { TourPicture } from './tourPicture.tsx'

const TOUR = 'tour'
const WALL = 'wall'

/** What a screen is for and how it is used; or one step of the tour of the Wall. */
export function Help({ rest: [of = WALL, ...rest] }: ViewProps) {
  return of === TOUR ? <Tour at={Number(rest[0] ?? 0)} /> : <About of={of} page={rest} />
}

/** @param page where on that screen somebody asked: the way back leads there */
function About({ of, page }: { readonly of: string; readonly page: readonly string[] }) {
  const say = useOwnWords(own)
  const about = say.pages[of] ?? say.pages[WALL]
  return (
    <div class="form help">
      <PageHead title={about?.title ?? say.help} back={say.back} backTo={hashOf(of, ...page)} />
      <ul>
        {about?.lines.map((line) => (
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
  const next = useRef<HTMLAnchorElement>(null)
  // With Enter alone one goes through it, and Tab leads to the way out.
  useLayoutEffect(() => next.current?.focus({ preventScroll: true }), [])
  const n = Math.min(Math.max(0, Math.trunc(at) || 0), say.steps.length - 1)
  const step = say.steps[n]
  const isLast = n === say.steps.length - 1
  const toStep = (to: number) => hashOf('help', TOUR, String(to))
  return (
    <div class="form help" data-tour={n}>
      <p class="minor digits">{say.stepOf(n + 1, say.steps.length)}</p>
      <h2>{step?.title}</h2>
      {step?.lines.map((line) => (
        <p key={line}>{line}</p>
      ))}
      <TourPicture step={n} title={step?.title ?? say.tour} />
      <div class="acts tour-acts">
        <a
          ref={next}
          class="button main"
          data-act="tourNext"
          href={isLast ? hashOf(WALL) : toStep(n + 1)}
        >
          {isLast ? say.done : say.next}
        </a>
        {n > 0 && (
          <a class="button" data-act="tourBack" href={toStep(n - 1)}>
            {say.back}
          </a>
        )}
        {!isLast && (
          <a class="button" data-act="tourSkip" href={hashOf(WALL)}>
            {say.skip}
          </a>
        )}
      </div>
    </div>
  )
}
