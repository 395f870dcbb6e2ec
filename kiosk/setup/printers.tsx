import type { Printer, PrintingAnswer } from '../../machines/contract/printing.ts'
import { useOutbox } from '../commands/shop.ts'
import { type Printings, usePrinting } from '../device/usePrinting.ts'
import { Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { CodeWidth } from '../ui/codeWidth.tsx'
import { Choice } from '../ui/parts.tsx'
import * as own from '../words/printers.ts'
import { useOwnWords } from '../words/words.ts'
import { LabelSettings } from './labelSettings.tsx'
import { NewPrinter } from './newPrinter.tsx'
import type { SectionProps } from './things.tsx'

/** How often the server is asked how the printers stand. */
const EVERY_MS = 5_000

/** The shop's printers: added by address, tested with a ruler, chosen for this kiosk. */
export function Printers({ state, now }: SectionProps) {
  const say = useOwnWords(own)
  const prints = usePrinting(now, EVERY_MS)
  const known = prints.answer.value
  const missing = prints.missing.value
  return (
    <>
      {missing === 'none' ? (
        <p>{say.none}</p>
      ) : known === null ? (
        <p class="minor">{missing === null ? say.reading : say.away}</p>
      ) : (
        <Known prints={prints} known={known} />
      )}
      <LabelSettings state={state} now={now} />
      <p class="minor">{say.placing}</p>
      <p class="minor">{say.material}</p>
      <p class="minor">{say.hazardNote}</p>
    </>
  )
}

type KnownProps = { readonly prints: Printings; readonly known: PrintingAnswer }

function Known({ prints, known }: KnownProps) {
  const say = useOwnWords(own)
  const error = prints.error.value
  return (
    <section class="stack" data-printers={known.printers.length}>
      <h2>{say.title}</h2>
      {error && <Sentence>{error === 'away' ? say.away : error.message}</Sentence>}
      {known.printers.length === 0 && <p>{say.empty}</p>}
      {known.printers.map((printer) => (
        <OnePrinter key={printer.printer} {...{ printer, prints, known }} />
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
          onPick={(value) => void prints.set({ auto: value === 'yes' })}
        />
      )}
      <NewPrinter add={(printer) => prints.set({ printers: [...known.printers, printer] })} />
    </section>
  )
}

type OneProps = KnownProps & { readonly printer: Printer }

function OnePrinter({ printer, prints, known }: OneProps) {
  const say = useOwnWords(own)
  const device = useOutbox()?.device.value ?? ''
  const trouble = known.standing.find((one) => one.printer === printer.printer)?.trouble ?? null
  const isHere = known.byKiosk.some(
    (one) => one.device === device && one.printer === printer.printer,
  )
  const others = known.byKiosk.filter((one) => one.device !== device)
  const { printer: id, dpi, symbology } = printer
  const set = (printers: readonly Printer[]) => prints.set({ printers: [...printers] })
  const isOther = (one: { readonly printer: string }) => one.printer !== id
  const shown = trouble?.code === 'unknownCertificate' ? trouble.params.fingerprint : null
  return (
    <section class="stack" data-printer={printer.printer} data-trouble={trouble?.code}>
      <h3>
        {printer.name} <span class="minor">{say.size(printer.widthMm, printer.heightMm)}</span>
      </h3>
      <p class={trouble ? 'sentence' : undefined} role="status">
        {trouble ? say.trouble(trouble) : say.well} {isHere && say.isHere}
      </p>
      <CodeWidth paper={symbology === 'datamatrix' ? { dpi, symbology } : { dpi }} />
      <div class="acts">
        <Press
          act="ruler"
          onPress={() => void prints.send({ kind: 'ruler', thing: id, printer: id })}
        >
          <span>
            {say.test}
            <small>{say.testSmall}</small>
          </span>
        </Press>
        {!isHere && device !== '' && (
          <Press
            act="here"
            onPress={() => void prints.set({ byKiosk: [...others, { device, printer: id }] })}
          >
            {say.here}
          </Press>
        )}
        {shown !== null && (
          <Press
            act="trust"
            onPress={() =>
              void set(
                known.printers.map((one) => (isOther(one) ? one : { ...one, fingerprint: shown })),
              )
            }
          >
            {say.trust}
          </Press>
        )}
        <Press
          act="remove"
          onPress={() =>
            void prints.set({
              printers: known.printers.filter(isOther),
              byKiosk: known.byKiosk.filter(isOther),
            })
          }
        >
          {say.remove}
        </Press>
      </div>
    </section>
  )
}
