import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import {
  type CoatOf,
  type CupOf,
  FOLLOWED,
  type Followed,
  type GenealogyAnswer,
} from '../../machines/contract/genealogy.ts'
import { useShop } from '../commands/shop.ts'
import { Press } from '../ui/buttons.tsx'
import { OF } from '../ui/chainLink.tsx'
import { PageHead } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/screen.tsx'
import * as own from '../words/chain.ts'
import { useOwnWords } from '../words/words.ts'
import { Lots } from './lots.tsx'

const PAGE = 50

type Told =
  | { readonly kind: 'told'; readonly answer: GenealogyAnswer }
  | { readonly kind: 'unknown' | 'away' }

async function ask(kind: Followed, id: string, limit: number): Promise<Told> {
  try {
    const path = `/api/genealogy/${kind}/${encodeURIComponent(id)}?limit=${limit}`
    const response = await fetch(path)
    if (response.ok) return { kind: 'told', answer: (await response.json()) as GenealogyAnswer }
    return { kind: response.status < 500 ? 'unknown' : 'away' }
  } catch {
    return { kind: 'away' }
  }
}

/** A lot, a cup or a panel followed both ways; without one, the lots that are known. */
export function Chain({ kiosk, rest: [, given = '', id = ''] }: ViewProps) {
  const say = useOwnWords(own)
  const kind = FOLLOWED.find((one) => one === given)
  const head = (title: string) => (
    <PageHead
      title={title}
      back={say.back}
      backTo={kind === 'lot' ? hashOf('trace', OF) : hashOf('jobs')}
    />
  )
  if (kind === undefined || id === '')
    return (
      <div class="form chain">
        {head(say.lots)}
        <Lots now={kiosk.reading.value.nowMs} />
      </div>
    )
  return (
    <div class="form chain" key={`${kind} ${id}`}>
      {head(say.title)}
      <FollowedView kind={kind} id={id} now={kiosk.reading.value.nowMs} />
    </div>
  )
}

type Props = { readonly kind: Followed; readonly id: string; readonly now: number }

function FollowedView({ kind, id, now }: Props) {
  const say = useOwnWords(own)
  const told = useSignal<Told | null>(null)
  const limit = useSignal(PAGE)
  useEffect(() => {
    let isWanted = true
    void ask(kind, id, limit.value).then((answer) => {
      if (isWanted) told.value = answer
    })
    return () => {
      isWanted = false
    }
  }, [kind, id, limit.value])
  const is = told.value
  if (is === null) return <p class="minor">{say.reading}</p>
  if (is.kind !== 'told')
    return (
      <p class="sentence" role="status">
        {is.kind === 'away' ? say.away : say.unknown}
      </p>
    )
  const { counts, coats, cups, isMore, behind } = is.answer
  const name = kind === 'lot' ? say.lot(id) : kind === 'cup' ? say.cup(id) : null
  return (
    <>
      <h3>{name ?? `${say.panel} ${coats[0]?.panelName ?? id}`}</h3>
      <p class="sentence" data-reaches>
        {counts.coats === 0
          ? say.noCoats
          : say.reaches(counts.coats, counts.panels, counts.jobs, counts.cups)}
      </p>
      {behind > 0 && (
        <p class="sentence" role="status">
          {say.behind(behind)}
        </p>
      )}
      <h3>{say.cups}</h3>
      <ul class="rows">
        {cups.map((cup) => (
          <CupRow key={cup.cup} cup={cup} now={now} />
        ))}
      </ul>
      {coats.length > 0 && <h3>{say.coats}</h3>}
      <ul class="rows">
        {coats.map((coat) => (
          <CoatRow key={coat.entry} coat={coat} now={now} />
        ))}
      </ul>
      {isMore && (
        <Press
          act="more"
          onPress={() => {
            limit.value += PAGE
          }}
        >
          {say.more}
        </Press>
      )}
    </>
  )
}

function CupRow({ cup, now }: { readonly cup: CupOf; readonly now: number }) {
  const { format } = useShop()
  const say = useOwnWords(own)
  const { activator, reducer, mixedAt, parents, lots } = cup
  const parts = [
    mixedAt === null ? say.notYet : format.value.timeAndDay(mixedAt, now),
    activator === null ? '' : `${say.activator} ${activator}`,
    reducer === null ? '' : `${say.reducer} ${reducer}`,
    lots.length === 0 && parents.length === 0 ? say.lotNotRecorded : '',
  ]
  return (
    <li class="chain-cup">
      <a class="row line button" href={hashOf('trace', OF, 'cup', cup.cup)} data-cup={cup.cup}>
        <span>
          <strong>
            <span class="digits">{cup.cup.slice(0, 4)}</span> {cup.name ?? ''}
          </strong>
          <small>{parts.filter((part) => part !== '').join(' · ')}</small>
        </span>
      </a>
      <span class="acts">
        {lots.map(({ lot, component }) => (
          <a
            class="button"
            key={`${lot} ${component}`}
            href={hashOf('trace', OF, 'lot', lot)}
            data-lot={lot}
          >
            <span>
              {say.lot(lot)}
              {component !== null && <small>{component}</small>}
            </span>
          </a>
        ))}
        {parents.map((parent) => (
          <a class="button" key={parent} href={hashOf('trace', OF, 'cup', parent)}>
            <span>
              {say.cup(parent.slice(0, 4))}
              <small>{say.from}</small>
            </span>
          </a>
        ))}
      </span>
    </li>
  )
}

function CoatRow({ coat, now }: { readonly coat: CoatOf; readonly now: number }) {
  const { words, format } = useShop()
  const say = useOwnWords(own)
  const { panel, panelName, job, jobTitle, stage, cup, at } = coat
  const stages: Readonly<Record<string, string>> = words.value.stage
  return (
    <li>
      <a class="row line button" href={hashOf('trace', OF, 'panel', panel)} data-coat={coat.entry}>
        <span>
          <strong>
            {panelName ?? panel} · {stage === null ? '' : (stages[stage] ?? stage)}
          </strong>
          <small>
            {[
              format.value.timeAndDay(at, now),
              jobTitle ?? job ?? '',
              say.cup(cup.slice(0, 4)),
            ].join(' · ')}
          </small>
        </span>
      </a>
    </li>
  )
}
