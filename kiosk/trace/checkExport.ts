import { sha256 } from '@noble/hashes/sha2'
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils'
import type { JobExport } from '../../machines/contract/jobExport.ts'
import type { Entry } from '../../machines/envelope.ts'

/** Whether an exported job is as it was made. Pure, and without the browser's own digests: these are not everywhere. */

const digestOf = (text: string): string => bytesToHex(sha256(utf8ToBytes(text)))

export type CheckedExport = {
  readonly job: JobExport
  readonly entries: readonly Entry[]
  /** How many entries of others stand between, as digests. */
  readonly others: number
  /** The position up to which something is not as it was written; null where all is; 0 where no entry shows it. */
  readonly changedAt: number | null
}

/** The first position that is not as it was written, and the entries that are carried. */
function walked({ shop, pieces }: JobExport) {
  const entries: Entry[] = []
  let others = 0
  let changedAt: number | null = null
  let last = 0
  for (const { from, before, links } of pieces) {
    let hash = before
    if (from <= last || (from === 1 && before !== digestOf(shop))) changedAt ??= from
    for (const [i, link] of links.entries()) {
      const position = from + i
      last = position
      if (typeof link === 'string') {
        others += 1
        hash = digestOf(hash + link)
        continue
      }
      hash = digestOf(hash + digestOf(link.text))
      const entry = JSON.parse(link.text) as Entry
      if (hash !== link.hash || entry.position !== position || entry.shop !== shop)
        changedAt ??= position
      // Goes on from what is said: each change is found at its own place.
      hash = link.hash
      entries.push({ ...entry, hash: link.hash })
    }
    if (typeof links.at(-1) === 'string') changedAt ??= last
  }
  return { entries, others, changedAt }
}

/**
 * @param text what the file carries
 * @param seal the digest beside it
 * @returns null where it cannot be read at all
 */
export function checkExport(text: string, seal: string): CheckedExport | null {
  try {
    const job = JSON.parse(text) as JobExport
    const { entries, others, changedAt } = walked(job)
    const isSealed = digestOf(text) === seal
    return { job, entries, others, changedAt: changedAt ?? (isSealed ? null : 0) }
  } catch {
    return null
  }
}
