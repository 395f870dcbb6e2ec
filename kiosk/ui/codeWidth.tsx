import { cupCodeWidthMm, type LabelPaper, tooSmallFor } from '../../labels/layout.ts'
import { settingsOf } from '../../machines/shop/settings.ts'
import { useShop } from '../commands/shop.ts'
import * as own from '../words/printers.ts'
import { useOwnWords } from '../words/words.ts'
import { Sentence } from './answer.tsx'

type Props = { readonly paper: Pick<LabelPaper, 'dpi' | 'symbology'> }

/** Warns where the code that a paper gets is too wide for the shop's smallest cup; nothing where no cup is known. */
export function CodeWidth({ paper }: Props) {
  const { state } = useShop()
  const say = useOwnWords(own)
  const { cupsMm = [], phoneAddress: site } = (state.value && settingsOf(state.value).labels) ?? {}
  const widthMm = cupCodeWidthMm(site === undefined ? paper : { ...paper, site })
  const cupMm = tooSmallFor(widthMm, cupsMm)
  if (cupMm === null) return null
  return (
    <div data-too-wide={cupMm}>
      <Sentence>{say.tooWide(widthMm, cupMm)}</Sentence>
    </div>
  )
}
