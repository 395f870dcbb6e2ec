import { useSignal } from '@preact/signals'
import { useShop } from '../commands/shop.ts'
import { Press } from '../ui/buttons.tsx'
import { saveFile } from '../ui/outboxParts.tsx'
import { timelineIn } from '../words/timeline.ts'
import { traceIn } from '../words/traceIn.ts'
import type { Span } from './axis.ts'
import { type PictureForm, pictureOf } from './picture.ts'

type Props = {
  readonly box: { readonly current: HTMLDivElement | null }
  readonly name: string
  readonly span: Span
  /** How a time is written; by the shop's calendar without it. */
  readonly label?: (ms: number) => string
}

/** Keys that save what is drawn as a file: it is a file of this device, and goes where the person takes it. */
export function SavePicture({ box, name, span, label }: Props) {
  const { words, format } = useShop()
  const timeline = timelineIn(words.value)
  const isBusy = useSignal(false)
  const hasFailed = useSignal(false)
  const save = async (form: PictureForm) => {
    const drawn = box.current?.querySelector('svg')
    if (!drawn) return
    isBusy.value = true
    hasFailed.value = false
    const { fullDate, time } = format.value
    const said = label ?? ((at: number) => `${fullDate(at)} ${time(at)}`)
    const when = [span.from, span.to].map(said).join(' – ')
    try {
      const lines = { title: `${name} · ${when}`, foot: traceIn(words.value).legend }
      const picture = await pictureOf(drawn, form, lines)
      saveFile(`flashbell-${name}-timeline.${form}`, picture, picture.type)
    } catch {
      hasFailed.value = true
    }
    isBusy.value = false
  }
  return (
    <>
      <div class="acts">
        {(['png', 'pdf'] as const).map((form) => (
          <Press key={form} act={form} isOff={isBusy.value} onPress={() => save(form)}>
            {timeline.savePicture[form]}
          </Press>
        ))}
      </div>
      {hasFailed.value && (
        <p class="sentence" role="alert">
          {timeline.notSaved}
        </p>
      )}
    </>
  )
}
