import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { PrintingAnswer } from '../../machines/contract/printing.ts'
import { commandId } from '../commands/send.ts'
import { useOutbox, useShop } from '../commands/shop.ts'
import { print, printing } from '../device/printers.ts'
import { Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import * as own from '../words/printers.ts'
import { useOwnWords } from '../words/words.ts'

const EVERY_MS = 1_000
const WHYS = ['wiped', 'lost', 'other'] as const

type Props = {
  readonly cup: string
  readonly isFirst: boolean
  readonly labelReadsLate: boolean
  readonly now: number
}

/**
 * A cup's label on a printer of the shop, and how it goes there. Shows nothing where the shop has none: the
 * device's own dialog stays.
 */
export function NetworkPrint({ cup, isFirst, labelReadsLate, now }: Props) {
  const { words } = useShop()
  const say = useOwnWords(own)
  const device = useOutbox()?.device.value ?? null
  const { locale } = words.value
  const known = useSignal<PrintingAnswer | null>(null)
  const error = useSignal<string | null>(null)
  const look = async () => {
    const told = await printing(locale)
    if (told.kind === 'told') known.value = told.answer
  }
  useEffect(() => void look(), [Math.floor(now / EVERY_MS)])
  const answer = known.value
  if (answer === null || answer.printers.length === 0) return null
  const job = answer.jobs.find((one) => one.kind === 'cup' && one.thing === cup)
  const isOpen = job !== undefined && job.step !== 'done' && job.step !== 'failed'
  const isOvertaken = job?.trouble?.code === 'overtaken'
  const here = answer.byKiosk.find((one) => one.device === device)?.printer
  const printer = answer.printers.find((one) => one.printer === here) ?? answer.printers[0]
  const go = async (why?: string) => {
    const ask = { id: commandId(), kind: 'cup' as const, thing: cup, device }
    const told = await print(why === undefined ? ask : { ...ask, why }, locale)
    error.value =
      told.kind === 'told' ? null : (told.kind === 'not' && told.error?.message) || say.away
    await look()
  }
  const whys = labelReadsLate ? (['late', ...WHYS] as const) : WHYS
  return (
    <section class="stack" data-network-print={job?.step ?? 'idle'}>
      {error.value && <Sentence>{error.value}</Sentence>}
      {job && !isOvertaken && (
        <p class={job.trouble ? 'sentence' : undefined} role="status">
          {say.steps[job.step]} {job.trouble && say.trouble(job.trouble)}{' '}
          {job.trouble && say.byHand}
        </p>
      )}
      {!isOpen && isFirst && (
        <div class="acts">
          <Press act="printHere" isMain onPress={() => void go()}>
            <span>
              {say.printHere}
              <small>{say.printOn(printer?.name ?? '')}</small>
            </span>
          </Press>
        </div>
      )}
      {!isOpen && !isFirst && (
        <>
          <p class="minor">{say.why}</p>
          <div class="acts">
            {whys.map((why) => (
              <Press key={why} act={`again-${why}`} onPress={() => void go(say.whys[why])}>
                {say.whys[why]}
              </Press>
            ))}
          </div>
        </>
      )}
    </section>
  )
}
