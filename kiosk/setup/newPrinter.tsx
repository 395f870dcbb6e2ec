import { useSignal } from '@preact/signals'
import type { Printer, PrinterAbout } from '../../machines/contract/printing.ts'
import { commandId } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { askPrinter, type PrintError } from '../device/printers.ts'
import { Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { CodeWidth } from '../ui/codeWidth.tsx'
import { Choice } from '../ui/parts.tsx'
import * as own from '../words/printers.ts'
import { useOwnWords } from '../words/words.ts'

/** Where a printer names no paper, such as a queue without a driver: what is usual, by its size alone. */
const USUAL: PrinterAbout['media'] = [
  [57, 32],
  [62, 40],
  [101.6, 152.4],
  [210, 297],
].map(([widthMm = 0, heightMm = 0]) => ({
  ...{ media: `${widthMm}x${heightMm}`, widthMm, heightMm, isReady: false },
}))

const CODES = ['qr', 'datamatrix', 'code128'] as const
type Code = (typeof CODES)[number]

const papersOf = (about: PrinterAbout | null) =>
  about?.media.length === 0 ? USUAL : (about?.media ?? [])

/** An address, what answers there, and what is chosen of it. */
export function NewPrinter({ add }: { readonly add: (printer: Printer) => Promise<void> }) {
  const { words } = useShop()
  const say = useOwnWords(own)
  const address = useSignal('')
  const about = useSignal<PrinterAbout | null>(null)
  const isAsking = useSignal(false)
  const error = useSignal<PrintError | 'away' | null>(null)
  /** Of the certificate that was compared; a change of the address asks again. */
  const trusted = useSignal<string | null>(null)
  const media = useSignal<string | null>(null)
  const way = useSignal(0)
  const code = useSignal<Code>('qr')
  const ask = async (fingerprint: string | null = trusted.value) => {
    trusted.value = fingerprint
    isAsking.value = true
    const at = { address: address.value.trim(), ...(fingerprint ? { fingerprint } : {}) }
    const told = await askPrinter(at, words.value.locale)
    isAsking.value = false
    about.value = told.kind === 'told' ? told.answer : null
    error.value = told.kind === 'told' ? null : (told.kind === 'not' && told.error) || 'away'
    media.value = papersOf(about.value)[0]?.media ?? null
    way.value = 0
  }
  const said = about.value
  const papers = papersOf(said)
  const paper = papers.find((one) => one.media === media.value)
  const chosen = said?.ways[way.value]
  const wrong = error.value
  const shown =
    wrong !== null && wrong !== 'away' && wrong.code === 'unknownCertificate'
      ? wrong.params.fingerprint
      : null
  const save = async () => {
    if (!said || !paper || !chosen) return
    const { widthMm, heightMm } = paper
    const name = (said.name || said.model || address.value).slice(0, 40)
    await add({
      ...{ printer: commandId(), name, address: address.value.trim() },
      ...(said.media.length > 0 ? { media: paper.media } : {}),
      ...{ widthMm, heightMm, ...chosen },
      ...(code.value === 'qr' ? {} : { symbology: code.value }),
      ...(trusted.value === null ? {} : { fingerprint: trusted.value }),
    })
    trusted.value = null
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
      <label class="field">
        <span class="minor">{say.address}</span>
        <input
          type="text"
          inputMode="url"
          name="address"
          autocomplete="off"
          value={address.value}
          onInput={(event) => {
            address.value = event.currentTarget.value
            trusted.value = null
          }}
        />
      </label>
      <button type="submit" data-act="askPrinter" disabled={isAsking.value || address.value === ''}>
        {say.ask}
      </button>
      {isAsking.value && <p role="status">{say.asking}</p>}
      {wrong && <Sentence>{wrong === 'away' ? say.away : wrong.message}</Sentence>}
      {shown !== null && (
        <Press act="trust" onPress={() => void ask(shown)}>
          {say.trust}
        </Press>
      )}
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
            options={papers.map((one) => ({
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
              code.value = value as Code
            }}
          />
          {chosen && (
            <CodeWidth
              paper={
                code.value === 'datamatrix'
                  ? { dpi: chosen.dpi, symbology: code.value }
                  : { dpi: chosen.dpi }
              }
            />
          )}
          <Press act="savePrinter" isMain isOff={!paper || !chosen} onPress={() => void save()}>
            {say.save}
          </Press>
        </section>
      )}
    </form>
  )
}
