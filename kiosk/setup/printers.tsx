import { type Signal, useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type {
  Printer,
  PrinterAbout,
  PrintingAnswer,
  PrintingSettings,
} from '../../machines/contract/printing.ts'
import { commandId } from '../commands/send.ts'
import { useOutbox, useShop } from '../commands/shop.ts'
import {
  askPrinter,
  type PrintError,
  print,
  printing,
  setPrinting,
  type Told,
} from '../device/printers.ts'
import { Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { Choice } from '../ui/parts.tsx'
import * as own from '../words/printers.ts'
import { useOwnWords } from '../words/words.ts'
import type { SectionProps } from './things.tsx'

const CODES = ['qr', 'datamatrix'] as const

/** How often the server is asked how the printers stand. */
const EVERY_MS = 5_000

/** The shop's printers: added by address, tested with a ruler, chosen for this kiosk. */
export function Printers({ now }: SectionProps) {
  const { words } = useShop()
  const say = useOwnWords(own)
  const { locale } = words.value
  const answer = useSignal<PrintingAnswer | null>(null)
  const told = useSignal<'none' | 'away' | null>(null)
  const error = useSignal<PrintError | null>(null)
  const take = (from: Told<PrintingAnswer>) => {
    told.value = from.kind === 'told' ? null : from.kind === 'none' ? 'none' : 'away'
    error.value = from.kind === 'not' ? from.error : null
    if (from.kind === 'told') answer.value = from.answer
  }
  useEffect(() => {
    let isWanted = true
    void printing(locale).then((from) => {
      if (isWanted) take(from)
    })
    return () => {
      isWanted = false
    }
  }, [Math.floor(now / EVERY_MS)])
  if (told.value === 'none') return <p>{say.none}</p>
  const known = answer.value
  if (known === null) return <p class="minor">{told.value === null ? say.reading : say.away}</p>
  const set = async (change: Partial<PrintingSettings>) => {
    const { printers, auto, byKiosk } = known
    take(await setPrinting({ printers, auto, byKiosk, ...change }, locale))
  }
  return (
    <section class="stack" data-printers={known.printers.length}>
      <h2>{say.title}</h2>
      {error.value && <Sentence>{error.value.message}</Sentence>}
      {known.printers.length === 0 && <p>{say.empty}</p>}
      {known.printers.map((printer) => (
        <OnePrinter key={printer.printer} {...{ printer, known, set, error }} />
      ))}
      {known.printers.length > 0 && (
        <Choice
          name="auto"
          word={say.auto}
          picked={known.auto ? 'yes' : 'no'}
          options={[
            { value: 'yes', word: say.autos.yes },
            { value: 'no', word: say.autos.no },
          ]}
          onPick={(value) => void set({ auto: value === 'yes' })}
        />
      )}
      <NewPrinter add={(printer) => set({ printers: [...known.printers, printer] })} />
      <p class="minor">{say.placing}</p>
      <p class="minor">{say.material}</p>
      <p class="minor">{say.hazardNote}</p>
    </section>
  )
}

type OneProps = {
  readonly printer: Printer
  readonly known: PrintingAnswer
  readonly set: (change: Partial<PrintingSettings>) => Promise<void>
  readonly error: Signal<PrintError | null>
}

function OnePrinter({ printer, known, set, error }: OneProps) {
  const { words } = useShop()
  const say = useOwnWords(own)
  const device = useOutbox()?.device.value ?? ''
  const { locale } = words.value
  const trouble = known.standing.find((one) => one.printer === printer.printer)?.trouble ?? null
  const isHere = known.byKiosk.some(
    (one) => one.device === device && one.printer === printer.printer,
  )
  const others = known.byKiosk.filter((one) => one.device !== device)
  const test = async () => {
    const { printer: thing } = printer
    const done = await print({ id: commandId(), kind: 'ruler', thing, printer: thing }, locale)
    error.value = done.kind === 'not' ? done.error : null
  }
  const remove = () =>
    set({
      printers: known.printers.filter((one) => one.printer !== printer.printer),
      byKiosk: known.byKiosk.filter((one) => one.printer !== printer.printer),
    })
  return (
    <section class="stack" data-printer={printer.printer} data-trouble={trouble?.code}>
      <h3>
        {printer.name} <span class="minor">{say.size(printer.widthMm, printer.heightMm)}</span>
      </h3>
      <p class={trouble ? 'sentence' : undefined} role="status">
        {trouble ? say.trouble(trouble) : say.well} {isHere && say.isHere}
      </p>
      <div class="acts">
        <Press act="ruler" onPress={() => void test()}>
          <span>
            {say.test}
            <small>{say.testSmall}</small>
          </span>
        </Press>
        {!isHere && device !== '' && (
          <Press
            act="here"
            onPress={() => void set({ byKiosk: [...others, { device, printer: printer.printer }] })}
          >
            {say.here}
          </Press>
        )}
        <Press act="remove" onPress={() => void remove()}>
          {say.remove}
        </Press>
      </div>
    </section>
  )
}

/** An address, what answers there, and what is chosen of it. */
function NewPrinter({ add }: { readonly add: (printer: Printer) => Promise<void> }) {
  const { words } = useShop()
  const say = useOwnWords(own)
  const address = useSignal('')
  const about = useSignal<PrinterAbout | null>(null)
  const isAsking = useSignal(false)
  const error = useSignal<string | null>(null)
  const media = useSignal<string | null>(null)
  const way = useSignal(0)
  const code = useSignal<'qr' | 'datamatrix'>('qr')
  const ask = async () => {
    isAsking.value = true
    const told = await askPrinter(address.value.trim(), words.value.locale)
    isAsking.value = false
    about.value = told.kind === 'told' ? told.answer : null
    error.value =
      told.kind === 'told' ? null : (told.kind === 'not' && told.error?.message) || say.away
    media.value = about.value?.media[0]?.media ?? null
    way.value = 0
  }
  const said = about.value
  const paper = said?.media.find((one) => one.media === media.value)
  const chosen = said?.ways[way.value]
  const save = async () => {
    if (!said || !paper || !chosen) return
    const { widthMm, heightMm } = paper
    const name = (said.name || said.model || address.value).slice(0, 40)
    await add({
      ...{ printer: commandId(), name, address: address.value.trim(), media: paper.media },
      ...{ widthMm, heightMm, ...chosen },
      ...(code.value === 'datamatrix' ? { symbology: code.value } : {}),
    })
    about.value = null
    address.value = ''
  }
  return (
    <form
      class="stack"
      onSubmit={(event) => {
        event.preventDefault()
        void ask()
      }}
    >
      <p class="minor">{say.how}</p>
      <label>
        {say.address}{' '}
        <input
          type="text"
          inputMode="url"
          name="address"
          autocomplete="off"
          value={address.value}
          onInput={(event) => {
            address.value = event.currentTarget.value
          }}
        />
      </label>
      <button type="submit" data-act="askPrinter" disabled={isAsking.value || address.value === ''}>
        {say.ask}
      </button>
      {isAsking.value && <p role="status">{say.asking}</p>}
      {error.value && <Sentence>{error.value}</Sentence>}
      {said && (
        <section class="stack">
          <p>
            <b>{say.found(said.name, said.model)}</b> {said.trouble && say.trouble(said.trouble)}
          </p>
          {said.media.length === 0 && <Sentence>{say.noPaper}</Sentence>}
          <Choice
            name="media"
            word={say.paper}
            picked={media.value}
            options={said.media.map((one) => ({
              value: one.media,
              word: say.size(one.widthMm, one.heightMm),
              ...(one.isReady ? { small: say.ready } : {}),
            }))}
            onPick={(value) => {
              media.value = value
            }}
          />
          <Choice
            name="way"
            word={say.way}
            picked={String(way.value)}
            options={said.ways.map((one, n) => ({
              value: String(n),
              word: say.ways[one.document](one.dpi),
            }))}
            onPick={(value) => {
              way.value = Number(value)
            }}
          />
          <Choice
            name="code"
            word={say.code}
            picked={code.value}
            options={CODES.map((one) => ({ value: one, word: say.codes[one] }))}
            onPick={(value) => {
              code.value = value === 'datamatrix' ? value : 'qr'
            }}
          />
          <Press act="savePrinter" isMain isOff={!paper || !chosen} onPress={() => void save()}>
            {say.save}
          </Press>
        </section>
      )}
    </form>
  )
}
