import { useSignal } from '@preact/signals'
import type { JobContext, JobNote } from '../../machines/job/machine.ts'
import type { State } from '../../machines/state.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Field } from '../forms/textField.tsx'
import { useDraft } from '../forms/useDraft.ts'
import { Answer } from '../ui/answer.tsx'
import { Choice, worded } from '../ui/choice.tsx'
import { useIsUnsent } from '../ui/outboxStatus.tsx'
import { PhotoImage } from '../ui/photoImage.tsx'
import { textSchema } from './draft.ts'
import { panelsOf } from './panelView.ts'
import { PhotoTaker } from './photoTaker.tsx'

type Props = {
  readonly state: State
  readonly id: string
  readonly job: JobContext
  readonly now: number
}

const WHOLE = ''

/** What was written and photographed of a job; a closed one takes more: defects show weeks later. */
export function Notes({ state, id, job, now }: Props) {
  const { words } = useShop()
  const { jobs } = words.value
  const { sending, ask } = useCommands()
  const text = useDraft(`draft.note.${id}`, textSchema, () => '')
  const about = useSignal(WHOLE)
  const panels = panelsOf(state, id)
  const nameOf = (panel: string | null) =>
    panels.find((view) => view.id === panel)?.panel.name ?? (panel || jobs.aboutJob)
  const of = about.value === WHOLE ? {} : { panel: about.value }
  const keep = async (event: Event) => {
    event.preventDefault()
    const sent = await ask('AddNote', { job: id, ...of, text: text.value })
    if (isTaken(sent)) text.value = ''
  }
  return (
    <section class="framed notes">
      <h2>{jobs.notes}</h2>
      <NoteList notes={job.notes} nameOf={nameOf} now={now} />
      {panels.length > 0 && (
        <Choice
          word={jobs.about}
          options={worded([WHOLE, ...panels.map((view) => view.id)], (panel) => nameOf(panel))}
          picked={about.value}
          onPick={(panel) => {
            about.value = panel
          }}
        />
      )}
      <form class="older" onSubmit={(e) => void keep(e)}>
        <Field
          name="note"
          word={jobs.note}
          value={text.value}
          onInput={(typed) => {
            text.value = typed
          }}
          required
        />
        <button type="submit" data-act="AddNote">
          {jobs.addNote}
        </button>
      </form>
      <Answer sending={sending.value} now={now} />
      <PhotoTaker job={id} of={of} now={now} />
    </section>
  )
}

type ListProps = {
  readonly notes: readonly JobNote[]
  readonly nameOf: (panel: string | null) => string
  readonly now: number
}

function NoteList({ notes, nameOf, now }: ListProps) {
  const { words, format } = useShop()
  const { jobs, outbox } = words.value
  const isUnsent = useIsUnsent()
  const large = useSignal<string | null>(null)
  const photos = notes.filter(({ photo }) => photo !== null)
  const texts = notes.filter(({ photo }) => photo === null)
  const time = (at: number) => format.value.timeAndDay(at, now)
  return (
    <>
      <ul class="rows note-list">
        {texts.map((note) => (
          <li key={note.entry}>
            <span class="digits">{time(note.at)}</span>{' '}
            <span class="minor">{nameOf(note.panel)}</span> {note.text}
            {isUnsent(note.entry) && <span class="minor"> {outbox.mark}</span>}
          </li>
        ))}
      </ul>
      <div class="photos">
        {photos.map((note) => (
          <button
            type="button"
            key={note.entry}
            class={large.value === note.entry ? 'photo large' : 'photo'}
            aria-pressed={large.value === note.entry}
            onClick={() => {
              large.value = large.value === note.entry ? null : note.entry
            }}
          >
            <PhotoImage
              photo={note.photo ?? ''}
              alt={jobs.photoOf(nameOf(note.panel), time(note.at))}
            />
            {isUnsent(note.entry) && <span class="not-yet">{outbox.mark}</span>}
          </button>
        ))}
      </div>
    </>
  )
}
