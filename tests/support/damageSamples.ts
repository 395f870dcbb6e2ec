import { scanGrayBuffer } from '@undecaf/zbar-wasm'
import { type LabelLayout, layoutCupLabel, layoutTag, STOCKS } from '../../labels/layout.ts'
import { gunTag, panelTag, personBadge, shelfTag } from '../../labels/panelTag.ts'
import { type FlatCode, SHEETS } from '../../labels/sheetCode.ts'
import { layoutCommandSheet, layoutJobSheet } from '../../labels/sheets.ts'
import { type Code, codeOf, DAMAGES, type Damage, FLAT_DAMAGES } from './labelDamage.ts'
import type { Grey } from './labelImage.ts'
import { readGrey } from './labelReader.ts'
import { CLEAR, MADRID } from './labelSamples.ts'

/** Every kind of label and sheet on every stock at both resolutions, and the readers that we did not write. */

const SHOP = 'K7F'
const OF = { shopTag: SHOP, id: 'clear-gun-1', name: 'Clear gun' }
const TAGS = {
  panel: panelTag(
    { shopTag: SHOP, panel: 'R4TPDXYZ', name: 'Rear quarter', job: 'J7K3MABC' },
    'en',
  ),
  person: personBadge({ ...OF, name: 'Ana Example' }),
  gun: gunTag({ ...OF, needleMm: 1.3 }, 'en'),
  shelf: shelfTag({ ...OF, lot: 'B-2231' }, 'en'),
}
const JOB = {
  ...{ shopTag: SHOP, job: 'J7K3MABC', title: 'Delivery van, rear corner', colours: ['OCHRE 3'] },
  panels: [{ panel: 'R4TPDXYZ', name: 'Rear quarter', route: ['base', 'clear'] }],
}

export type ReaderName = 'zxing' | 'zbar'
export type Sample = {
  readonly name: string
  readonly code: Code
  readonly damages: readonly Damage[]
  readonly readers: readonly ReaderName[]
}

const READ: Readonly<Record<ReaderName, (image: Grey) => Promise<string | null>>> = {
  zxing: readGrey,
  async zbar({ width, height, data }) {
    const found = await scanGrayBuffer(new Uint8Array(data).buffer, width, height)
    return found[0]?.decode() ?? null
  },
}

/** @returns the readers that read none of a scan's pictures */
export async function missedBy(
  { code, readers }: Sample,
  pictures: Iterable<Grey>,
): Promise<ReaderName[]> {
  let open = [...readers]
  for (const picture of pictures) {
    const texts = await Promise.all(open.map((reader) => READ[reader](picture)))
    open = open.filter((_, n) => texts[n] !== code.text)
    if (open.length === 0) break
  }
  return open
}

type Named = {
  readonly kind: string
  readonly stock: string
  readonly dpi: 203 | 300
  readonly symbology: FlatCode | undefined
}

function sample(
  { kind, stock, dpi, symbology }: Named,
  layout: LabelLayout,
  damages: readonly Damage[],
): Sample {
  return {
    name: `${kind}, ${stock}, ${dpi} dpi, ${symbology ?? 'qr'}`,
    code: codeOf(layout),
    damages,
    // The second reads no Data Matrix.
    readers: symbology === 'datamatrix' ? ['zxing'] : ['zxing', 'zbar'],
  }
}

const DPIS = [203, 300] as const

/** Labels: on a cup or hanging on something. */
export const labelSamples = (): Sample[] =>
  DPIS.flatMap((dpi) =>
    Object.entries(STOCKS).flatMap(([stock, size]) =>
      ([undefined, 'datamatrix'] as const).flatMap((symbology) => {
        const on = { stock: size, dpi, ...(symbology ? { symbology } : {}) }
        const named = { stock, dpi, symbology }
        return [
          sample({ ...named, kind: 'cup' }, layoutCupLabel(CLEAR, on, MADRID), DAMAGES),
          ...Object.entries(TAGS).map(([kind, tag]) =>
            sample({ ...named, kind }, layoutTag(tag, on), DAMAGES),
          ),
        ]
      }),
    ),
  )

/** Flat sheets, each by its first code. */
export const sheetSamples = (): Sample[] =>
  DPIS.flatMap((dpi) =>
    Object.entries(SHEETS).flatMap(([stock, size]) =>
      ([undefined, 'datamatrix', 'code128'] as const).flatMap((symbology) => {
        const on = { stock: size, dpi, ...(symbology ? { symbology } : {}) }
        const named = { stock, dpi, symbology }
        const [job] = layoutJobSheet(JOB, on, 'en')
        const [commands] = layoutCommandSheet(on, 'en')
        return Object.entries({ job, commands }).flatMap(([kind, page]) =>
          page ? [sample({ ...named, kind }, page, FLAT_DAMAGES)] : [],
        )
      }),
    ),
  )
