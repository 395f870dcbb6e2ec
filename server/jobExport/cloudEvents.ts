import type { JobExport } from '../../machines/contract/jobExport.ts'
import type { Entry } from '../../machines/envelope.ts'
import { canonicalText, sha256 } from '../log/canonical.ts'

/**
 * A job's entries as CloudEvents 1.0 in the JSON format (cloudevents.io, spec v1.0.2 and its JSON Event
 * Format), an event a line in the order of the log. `data` is the entry as it was hashed; beside it stand the
 * chain's own figures as extension attributes, whose names have lower-case letters and digits only:
 * `entryhash` = SHA-256(`previoushash` + SHA-256 of the RFC 8785 text of `data`).
 */

const TYPE = 'flashbell'

/** Every line ends with a line feed. */
export function* cloudEvents({ shop, pieces }: JobExport): Generator<string> {
  for (const { before, links } of pieces) {
    let previous = before
    for (const link of links) {
      const digest = typeof link === 'string' ? link : sha256(link.text)
      if (typeof link !== 'string') {
        const entry = JSON.parse(link.text) as Omit<Entry, 'hash'>
        yield `${canonicalText(eventOf(shop, entry, previous, link.hash))}\n`
      }
      previous = sha256(previous + digest)
    }
  }
}

const eventOf = (shop: string, entry: Omit<Entry, 'hash'>, previous: string, hash: string) => ({
  specversion: '1.0',
  id: entry.id,
  source: `urn:flashbell:shop:${shop}`,
  type: `${TYPE}.${entry.type}.v${entry.version}`,
  time: new Date(entry.at).toISOString(),
  ...subjectOf(entry),
  datacontenttype: 'application/json',
  position: entry.position,
  recordedtime: new Date(entry.recordedAt).toISOString(),
  previoushash: previous,
  entryhash: hash,
  data: entry,
})

/** The thing that it is about, the narrowest first. */
function subjectOf({ panel, cup, job, gun, zone, sheet }: Omit<Entry, 'hash'>) {
  const named = { panel, cup, job, gun, zone, sheet }
  const [kind, id] = Object.entries(named).find(([, one]) => one !== undefined) ?? []
  return kind === undefined ? {} : { subject: `${kind}/${id}` }
}
