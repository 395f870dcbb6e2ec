import type { JobContext } from '../../machines/job/machine.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer } from '../ui/answer.tsx'
import { Fold, PageHead } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import * as own from '../words/colour.ts'
import { useOwnWords } from '../words/words.ts'
import { Cards } from './colourCards.tsx'
import { MeasureCard } from './measureCard.tsx'
import { jobsPath, PANELS } from './names.ts'
import { fullName } from './outline.ts'

type Props = {
  readonly state: State
  readonly id: string
  readonly job: JobContext
  readonly now: number
}

/** A job's colors: the cards beside their panel, and what was decided of the neighbors. */
export function ColourPage({ state, id, job, now }: Props) {
  const say = useOwnWords(own)
  const { words } = useShop()
  const commands = useCommands()
  const levels = settingsOf(state).colour
  const cards = job.cards ?? []
  const isClosed = state.things.job[id]?.value === 'closed'
  // A job may name no color: its cards name one then.
  const named = [...new Set(cards.map(({ colour }) => colour))].map((key) => ({ key, code: '' }))
  const only = { key: words.value.jobs.colourKeys[0] ?? 'body', code: '' }
  const unnamed = named.length > 0 ? named : [only]
  const colours = job.colours.length > 0 ? job.colours : unnamed
  return (
    <div class="form jobs colour-page">
      <PageHead title={say.title} back={job.title} backTo={jobsPath(id)} />
      {levels === undefined && cards.length > 0 && (
        <div class="stack">
          <p class="sentence">{say.noLevels}</p>
          <a class="button" href={hashOf('setup', 'shop')}>
            {say.setLevels}
          </a>
        </div>
      )}
      <Answer sending={commands.sending.value} now={now} />
      {colours.map((colour) => (
        <Cards
          key={colour.key}
          job={id}
          colour={colour}
          cards={cards.filter((card) => card.colour === colour.key)}
          levels={levels}
          commands={commands}
        />
      ))}
      {!isClosed && (
        <Fold word={say.measure} act="measure" isOpen={cards.length === 0}>
          <MeasureCard job={id} colours={colours} cards={cards} now={now} />
        </Fold>
      )}
      <section class="stack">
        <h3>{say.blends}</h3>
        {(job.blends ?? []).length === 0 && <p class="minor">{say.noBlends}</p>}
        <ul class="rows">
          {(job.blends ?? []).map(({ on, beside, blend, reason, reachCm }) => (
            <li class="row" key={on} data-decided={on}>
              <b>{fullName(words.value, on)}</b>
              <span class="minor">
                {[
                  blend ? say.blended : say.leftOut,
                  reachCm === undefined ? '' : `${reachCm} cm`,
                  say.beside(beside.map((one) => fullName(words.value, one)).join(', ')),
                  own.whyIn(words.value.locale, reason ?? ''),
                ]
                  .filter((text) => text !== '')
                  .join(' · ')}
              </span>
            </li>
          ))}
        </ul>
        {!isClosed && (
          <a class="button" href={jobsPath(id, PANELS)}>
            {say.toPanels}
          </a>
        )}
      </section>
    </div>
  )
}
