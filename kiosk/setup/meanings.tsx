import { BELLS, type BellKind } from '../../machines/bell/kinds.ts'
import { useOwnWords } from '../ui/ownWords.ts'
import { Shape } from '../ui/shape.tsx'
import * as own from '../words/meanings.ts'

/** Its place below Setup. */
export const MEANINGS = 'meanings'

const KINDS = Object.keys(BELLS) as BellKind[]

/** What every bell means: why it rings, what happens if nobody acts, what to do, how much time there is. */
export function Meanings() {
  const meanings = useOwnWords(own)
  return (
    <section class="stack meanings">
      <h2>{meanings.title}</h2>
      <ul>
        {KINDS.map((kind) => {
          const meaning = meanings.of[kind]
          return (
            <li key={kind} data-meaning={kind}>
              <h3 class="bell" data-sound={BELLS[kind].sound}>
                <Shape sound={BELLS[kind].sound} /> {meaning.name}
              </h3>
              <dl>
                {(['action', 'cause', 'consequence', 'time'] as const).map((part) => (
                  <div key={part}>
                    <dt class="minor">{meanings[part]}</dt>
                    <dd>{meaning[part]}</dd>
                  </div>
                ))}
              </dl>
            </li>
          )
        })}
      </ul>
    </section>
  )
}
