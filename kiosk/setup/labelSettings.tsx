import { settingsOf } from '../../machines/shop/settings.ts'
import { labelSettingsSchema } from '../../machines/shop/settingsSchema.ts'
import { Form } from '../forms/form.tsx'
import { Sentence } from '../ui/answer.tsx'
import * as own from '../words/printers.ts'
import { useOwnWords } from '../words/words.ts'
import { LABELS } from './forms.ts'
import type { SectionProps } from './things.tsx'

const LOCAL = /^https?:\/\/(localhost|127\.)/i

/** The cups that labels are stuck on, and the address that codes begin with for phones. */
export function LabelSettings({ state, now }: Pick<SectionProps, 'state' | 'now'>) {
  const say = useOwnWords(own)
  const { labels } = settingsOf(state)
  return (
    <section class="stack">
      <h2>{say.labels}</h2>
      <p class="minor">{say.labelsHint}</p>
      <Form
        name="labels"
        fields={LABELS}
        fieldWords={say.fields}
        original={labels ?? {}}
        isStored
        schema={labelSettingsSchema}
        type="ChangeSettings"
        data={(labels) => ({ labels })}
        under="data.labels."
        now={now}
        word={say.saveLabels}
      />
      {LOCAL.test(labels?.phoneAddress ?? '') && <Sentence>{say.localAddress}</Sentence>}
      <p class="minor">{say.phoneHint}</p>
    </section>
  )
}
