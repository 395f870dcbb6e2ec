import { useSignal } from '@preact/signals'
import type { ExportForm } from '../../machines/contract/jobExport.ts'
import * as own from '../words/jobExport.ts'
import { useOwnWords } from '../words/words.ts'
import { Press } from './buttons.tsx'
import { saveFile } from './outboxParts.tsx'

/** Keys that take a job out of the shop, as a page that checks itself or as data. */
export function SaveJob({ job }: { readonly job: string }) {
  const say = useOwnWords(own)
  const trouble = useSignal<string | null>(null)
  const isBusy = useSignal(false)
  const save = async (as: ExportForm) => {
    isBusy.value = true
    trouble.value = null
    try {
      const answer = await fetch(`/api/jobs/${encodeURIComponent(job)}/export?as=${as}`)
      const type = answer.headers.get('content-type') ?? ''
      if (answer.ok) saveFile(`flashbell-${job}.${as}`, await answer.text(), type)
      else trouble.value = say.notMade
    } catch {
      trouble.value = say.noServer
    }
    isBusy.value = false
  }
  return (
    <div class="stack">
      <div class="acts">
        <Press act="saveJob" isOff={isBusy.value} onPress={() => save('html')}>
          <span>
            {say.save}
            <small>{say.saveWhy}</small>
          </span>
        </Press>
        <Press act="saveLines" isOff={isBusy.value} onPress={() => save('jsonl')}>
          <span>
            {say.saveLines}
            <small>{say.saveLinesWhy}</small>
          </span>
        </Press>
      </div>
      {trouble.value !== null && (
        <p class="sentence" role="alert">
          {trouble.value}
        </p>
      )}
    </div>
  )
}
