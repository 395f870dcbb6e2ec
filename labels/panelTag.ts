import { encodePanelCode } from './payload.ts'
import type { Tag } from './tag.ts'
import { encodeThingCode } from './thingCode.ts'
import { type Language, wordsOf } from './words.ts'

/** What the tags say that are no cup's label: of a panel, a person, a gun, a product on its shelf. */

/** So that the part itself can be scanned. */
export type PanelTag = {
  readonly shopTag: string
  readonly panel: string
  readonly name: string
  readonly job: string
  /** The job's title, such as "delivery van, rear corner". */
  readonly title?: string
}

/** @throws RangeError naming the field for what no tag can say */
export function panelTag(tag: PanelTag, language: Language): Tag {
  const words = wordsOf(language)
  return {
    payload: encodePanelCode(tag),
    title: tag.name,
    id: tag.panel,
    lines: [`${words.job} ${tag.job}`, tag.title ?? ''],
  }
}

type Named = { readonly shopTag: string; readonly id: string; readonly name: string }

/** A badge shows a name, as badges do; its code holds none. */
export function personBadge({ shopTag, id, name }: Named): Tag {
  const payload = encodeThingCode({ kind: 'person', shopTag, id, lot: null })
  return { payload, title: name, id: '', lines: [id] }
}

/** @param needleMm of the nozzle; null where nobody has said */
export function gunTag(gun: Named & { readonly needleMm: number | null }, language: Language): Tag {
  const { shopTag, id, name, needleMm } = gun
  const payload = encodeThingCode({ kind: 'gun', shopTag, id, lot: null })
  const needle = needleMm === null ? [] : [`${needleMm} mm`]
  return { payload, title: name, id: '', lines: [`${wordsOf(language).gun} ${id}`, ...needle] }
}

/** @param lot of the containers on that place; null for a place whose lots change */
export function shelfTag(
  product: Named & { readonly lot: string | null },
  language: Language,
): Tag {
  const { shopTag, id, name, lot } = product
  const payload = encodeThingCode({ kind: 'product', shopTag, id, lot })
  const said = lot === null ? [] : [`${wordsOf(language).lot} ${lot}`]
  return { payload, title: name, id: '', lines: [...said, id] }
}
