import { signal } from '@preact/signals'
import { render } from 'preact'
import { ShopProvider, type ShopView } from '../commands/shop.ts'
import { Fold } from '../ui/parts.tsx'
import { formatOf } from '../units/format.ts'
import { es as wordsEs } from '../words/all.es.ts'
import { en as wordsEn } from '../words/all.ts'
import { en, es } from '../words/jobExport.ts'
import { type CheckedExport, checkExport } from './checkExport.ts'
import { JobTraced } from './jobTraced.tsx'

/** The page of an exported job: one program without a server, a network or anything beside it. */

const HASH_SHOWN = 16

function Page({ made }: { readonly made: CheckedExport }) {
  const { job, entries, others, changedAt } = made
  const say = job.settings.language === 'es' ? es : en
  const { fullDate, time } = formatOf(job.settings)
  const opened = entries.find(({ type }) => type === 'JobOpened')?.data.title
  return (
    <div class="form trace">
      <h1>{typeof opened === 'string' ? opened : say.title(job.job)}</h1>
      <p class="minor">
        {say.title(job.job)} · {say.made(`${fullDate(job.madeAt)} ${time(job.madeAt)}`)}
      </p>
      {changedAt !== null && (
        <p class="sentence" role="alert" data-check="changed">
          <strong>{say.changed}</strong> {changedAt > 0 && say.changedAt(changedAt)}
        </p>
      )}
      {changedAt === null && (
        <>
          <p class="sentence" role="status" data-check="whole">
            {say.whole(entries.length, others)}{' '}
            {job.pieces.length > 1 && say.pieces(job.pieces.length)}
          </p>
          <p class="minor">{say.compare(job.head.position, job.head.hash.slice(0, HASH_SHOWN))}</p>
        </>
      )}
      <JobTraced entries={entries} now={job.madeAt} name={job.job} />
      <Fold word={say.entries} act="entries">
        {job.pieces.flatMap(({ links }) =>
          links.flatMap((link) =>
            typeof link === 'string'
              ? []
              : [
                  <pre key={link.hash} class="trace-entry">
                    {link.text}
                  </pre>,
                ],
          ),
        )}
      </Fold>
    </div>
  )
}

function viewOf({ job: { settings } }: CheckedExport): ShopView {
  return {
    state: signal(null),
    link: signal('live'),
    words: signal(settings.language === 'es' ? wordsEs : wordsEn),
    format: signal(formatOf(settings)),
    send: () => Promise.reject(new Error('an exported job takes no commands')),
  }
}

const place = document.getElementById('page')
const block = document.getElementById('job')
if (place && block) {
  const made = checkExport(block.textContent ?? '', block.dataset.sha256 ?? '')
  place.textContent = ''
  render(
    made === null ? (
      <p class="sentence" role="alert" data-check="changed">
        {en.changed} {en.notReadable} / {es.changed} {es.notReadable}
      </p>
    ) : (
      <ShopProvider value={viewOf(made)}>
        <Page made={made} />
      </ShopProvider>
    ),
    place,
  )
}
