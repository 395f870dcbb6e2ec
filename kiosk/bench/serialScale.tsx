import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { useShop } from '../commands/shop.ts'
import { BAUDS, type Connection, connectScale, hasSerial } from '../device/serialLine.ts'
import { Choice } from '../ui/choice.tsx'
import { Fold } from '../ui/fold.tsx'

const USUAL_BAUD = 9600

type Props = {
  /** As the scale shows it, with its unit. */
  readonly grams: (g: number) => string
  readonly onTake: (g: number) => void
}

/** A scale on a cable, where this browser can speak to one. Its reading is taken by a touch. */
export function SerialScale({ grams, onTake }: Props) {
  const { words } = useShop()
  const { bench } = words.value
  const live = useSignal<number | null>(null)
  const isLost = useSignal(false)
  const isOn = useSignal(false)
  const baud = useSignal<number>(USUAL_BAUD)
  const connection = useRef<Connection | null>(null)
  const stop = () => {
    void connection.current?.stop()
    connection.current = null
    isOn.value = false
    live.value = null
  }
  useEffect(() => stop, [])
  const connect = async () => {
    isLost.value = false
    connection.current = await connectScale(
      navigator,
      baud.value,
      (g) => {
        live.value = g
      },
      () => {
        stop()
        isLost.value = true
      },
    )
    isOn.value = connection.current !== null
    isLost.value = !isOn.value
  }
  if (!hasSerial(navigator)) return null
  if (isOn.value)
    return (
      <div class="acts">
        <button
          type="button"
          class="main"
          disabled={live.value === null}
          onClick={() => live.value !== null && onTake(live.value)}
        >
          <span>
            {bench.take}
            <small class="digits">
              {bench.live(live.value === null ? '…' : grams(live.value))}
            </small>
          </span>
        </button>
        <button type="button" onClick={stop}>
          {bench.disconnect}
        </button>
      </div>
    )
  return (
    <Fold word={bench.serial} act="serial">
      <Choice
        name="baud"
        word={bench.baud}
        picked={String(baud.value)}
        options={BAUDS.map((b) => ({ value: String(b), word: String(b) }))}
        onPick={(b) => {
          baud.value = Number(b)
        }}
      />
      <button type="button" onClick={() => void connect()}>
        {bench.connect}
      </button>
      {isLost.value && <p class="sentence">{bench.serialLost}</p>}
    </Fold>
  )
}
