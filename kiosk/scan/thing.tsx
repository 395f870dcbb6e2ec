import { useEffect } from 'preact/hooks'
import type { ReadThing } from '../../labels/code.ts'
import { idLike } from '../../machines/lookup.ts'
import { presentPerson } from '../../machines/people/fold.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { WHO_KEPT, who } from '../commands/queuedCommand.ts'
import { useShop } from '../commands/shop.ts'
import type { Settings } from '../device/settings.ts'
import { IntoCleanCup } from '../lanes/cleanCup.tsx'
import { cupsOf } from '../lanes/cups.ts'
import { Sentence } from '../ui/answer.tsx'
import { OF } from '../ui/chainLink.tsx'
import { hashOf } from '../ui/route.ts'
import * as own from '../words/tags.ts'
import { useOwnWords } from '../words/words.ts'

type Props = {
  readonly state: State
  readonly code: ReadThing
  readonly settings: Settings
  readonly now: number
}
/** Those that end first; the others stand on Cups and guns. */
const CUPS_MOST = 4

const KINDS = { person: 'person', gun: 'gun', product: 'sheet' } as const

/** What a badge, a gun's tag or a shelf leads to. A badge needs no further touch: its person presses here. */
export function ScannedThing({ state, code, settings, now }: Props) {
  const say = useOwnWords(own)
  const { words } = useShop()
  const { kind } = code
  const id = kind === 'job' ? null : idLike(state, KINDS[kind], code.id)
  const person = kind === 'person' && id !== null ? presentPerson(state, id) : undefined
  useEffect(() => {
    if (!person) return
    who.value = id
    settings.keep(WHO_KEPT, id)
    // Not a step to come back to: Back would choose this person again.
    location.replace(hashOf('wall'))
  }, [person !== undefined, id])
  if (id === null || (kind === 'person' && !person)) {
    const of = kind === 'job' ? 'gun' : kind
    return <Sentence>{code.isDigest ? say.unknownTag[of] : say.unknown[of](code.id)}</Sentence>
  }
  if (person) return <p role="status">{say.worksHere(person.name)}</p>
  if (kind === 'gun') {
    return (
      <>
        <h2>{contextOf(state, 'gun', id)?.spec?.name ?? id}</h2>
        <div class="acts">
          {cupsOf(state, now)
            .filter(({ endsAt }) => endsAt === null || endsAt > now)
            .slice(0, CUPS_MOST)
            .map((cup) => (
              <a class="button main" key={cup.id} href={hashOf('cups', cup.id, 'load', id)}>
                <span>
                  {say.loadFrom(cup.id.slice(0, 4))} · <small>{cup.cup.name}</small>
                </span>
              </a>
            ))}
          <a class="button" href={hashOf('cups')}>
            {say.toGuns}
          </a>
        </div>
        <IntoCleanCup state={state} gun={id} now={now} />
      </>
    )
  }
  const name = contextOf(state, 'sheet', id)?.versions.at(-1)?.sheet.name ?? id
  return (
    <>
      <h2>{name}</h2>
      {code.lot !== null && <p class="digits">{say.lot(code.lot)}</p>}
      <div class="acts">
        <a class="button main" href={hashOf('bench', id)}>
          {words.value.screens.bench}
        </a>
        <a class="button" href={hashOf('trace', OF, 'lot')}>
          {say.lots}
        </a>
      </div>
    </>
  )
}
