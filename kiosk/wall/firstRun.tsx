import { settingsOf } from '../../machines/shop/settings.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/screen.tsx'
import { TryPractice } from '../ui/tryPractice.tsx'
import * as own from '../words/firstRun.ts'
import { useOwnWords } from '../words/words.ts'
import { sampleSheets } from './sampleSheets.ts'

/** How a shop without a sheet is begun: to practice, with samples, from paper, or from a file. */
export function FirstRun({ kiosk }: ViewProps) {
  const { state } = useShop()
  const say = useOwnWords(own)
  const { sending, ask } = useCommands()
  return (
    <section class="empty first-run">
      <h2>{say.title}</h2>
      <p>{say.why}</p>
      <Answer sending={sending.value} now={kiosk.reading.value.nowMs} />
      <ul>
        <li>
          <Press
            act="sampleSheets"
            isMain
            isOff={sending.value.busy}
            onPress={() =>
              ask(
                'ImportSheets',
                sampleSheets(state.value ? settingsOf(state.value).language : 'en'),
              )
            }
          >
            {say.samples}
          </Press>
          <p class="minor">{say.samplesWhy}</p>
        </li>
        <li>
          <a class="button" data-act="newSheet" href={hashOf('setup', 'sheets', 'new')}>
            {say.type}
          </a>
          <p class="minor">{say.typeWhy}</p>
        </li>
        <li>
          <a class="button" data-act="importSheets" href={hashOf('setup', 'sheets')}>
            {say.import}
          </a>
          <p class="minor">{say.importWhy}</p>
        </li>
        <li>
          <TryPractice />
        </li>
        <li>
          <a class="button" data-act="tour" href={hashOf('help', 'tour')}>
            {say.tour}
          </a>
        </li>
      </ul>
    </section>
  )
}
