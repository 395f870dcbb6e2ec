import { useSignal } from '@preact/signals'
import { settingsOf } from '../../machines/shop/settings.ts'
import { unitOf } from '../calculator/measure.ts'
import { hashOf } from '../route.ts'
import { Answer } from '../shop/answer.tsx'
import { useShop } from '../shop/context.ts'
import { Hold } from '../shop/hold.tsx'
import { isTaken } from '../shop/send.ts'
import { useSend } from '../shop/useSend.ts'
import { MixCautions } from './cautions.tsx'
import { leftMl } from './cups.ts'
import { type CupFormProps, FormHead } from './formParts.tsx'
import { sheetOfCup } from './handCopy.ts'
import { NumberField } from './number.tsx'

/** An end for a cup: used up, or discarded with what is left in it. */
export function EmptyForm({ state, id, cup, now }: CupFormProps) {
  const { words } = useShop()
  const { bench } = words.value
  const { sending, ask } = useSend()
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
        unit={unitOf('volume', settingsOf(state).units)}
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
