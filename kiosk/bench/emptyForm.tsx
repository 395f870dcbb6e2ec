import { useSignal } from '@preact/signals'
import { COMMANDS } from '../../machines/commands.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { NumberField } from '../forms/numberField.tsx'
import { numberIn } from '../forms/spec.ts'
import { Answer } from '../ui/answer.tsx'
import { Hold } from '../ui/hold.tsx'
import { hashOf } from '../ui/route.ts'
import { MixCautions } from './cautions.tsx'
import { leftMl } from './cups.ts'
import { type CupFormProps, FormHead } from './formParts.tsx'
import { sheetOfCup } from './handCopy.ts'

const LEFT = numberIn(COMMANDS.EmptyCup, 'leftMl')

/** An end for a cup: used up, or discarded with what is left in it. */
export function EmptyForm({ state, id, cup, now }: CupFormProps) {
  const { words } = useShop()
  const { bench } = words.value
  const { sending, ask } = useCommands()
  const left = useSignal<number | null>(leftMl(cup))
  const empty = async (how: 'used' | 'discarded') => {
    const leftNow = how === 'used' ? 0 : left.value
    const sent = await ask('EmptyCup', {
      cup: id,
      how,
      ...(leftNow === null ? {} : { leftMl: leftNow }),
    })
    if (isTaken(sent)) location.hash = hashOf('cups')
  }
  return (
    <div class="form">
      <FormHead title={`${bench.empty}: ${id.slice(0, 4)}, ${cup.name}`} />
      <p class="sentence">{bench.neverSeal}</p>
      <div class="acts">
        <button
          type="button"
          class="main"
          data-act="used"
          disabled={sending.value.busy}
          onClick={() => void empty('used')}
        >
          {bench.used}
        </button>
      </div>
      <NumberField
        name="leftMl"
        word={bench.left}
        value={left.value}
        spec={LEFT}
        onChange={(ml) => {
          left.value = ml
        }}
      />
      <Answer sending={sending.value} now={now} />
      <div class="acts apart" data-act="discard">
        <Hold onHeld={() => void empty('discarded')}>
          <span>
            {bench.discard}
            <small>{bench.hold}</small>
          </span>
        </Hold>
      </div>
      <MixCautions sheet={sheetOfCup(state, cup)} isActivated={cup.clocks.length > 0} />
    </div>
  )
}
