import type { Typed } from '../../machines/records/typed.ts'
import { useShop } from '../commands/shop.ts'
import { zoneWord } from '../lanes/zones.ts'
import { Fold } from '../ui/parts.tsx'
import { VoidIt } from '../ui/voidIt.tsx'
import { historyIn } from '../words/historyIn.ts'
import * as own from '../words/recordsPage.ts'
import { useOwnWords } from '../words/words.ts'
import { dayText } from './days.ts'

type Props = {
  readonly typed: readonly Typed[]
  readonly now: number
  readonly onVoided: () => void
}

/** What was typed in, line by line, each to be taken back as any other mistake is. */
export function TypedRecords({ typed, now, onVoided }: Props) {
  const { state, words, format } = useShop()
  const say = useOwnWords(own)
  const { events } = historyIn(words.value)
  const known = state.value
  const about = ({ type, name, kind, ml }: Typed): string[] => {
    if (type === 'SolventUsed') return [name, ml === null ? '' : format.value.volume(ml)]
    if (type === 'TrainingRecorded') return [name, say.kinds[kind as keyof typeof say.kinds] ?? '']
    const zone = known ? zoneWord(known, words.value.zones, name) : name
    return [zone, say.works[kind as keyof typeof say.works] ?? '']
  }
  if (typed.length === 0) return null
  return (
    <Fold word={say.typed} act="typed">
      <ul class="rows">
        {typed.map((one) => (
          <li key={one.entry} class="stack" data-typed={one.type}>
            <p>
              {[dayText(one.at, format.value), events[one.type], ...about(one)]
                .filter((part) => part !== '')
                .join(' · ')}
            </p>
            <Fold word={say.takeBack} act="takeBack">
              <VoidIt entry={one.entry} now={now} onVoided={onVoided} />
            </Fold>
          </li>
        ))}
      </ul>
    </Fold>
  )
}
