import { useSignal } from '@preact/signals'
import type { JobContext, JobNote } from '../../machines/job/machine.ts'
import type { State } from '../../machines/state.ts'
import type { Picture } from '../commands/picture.ts'
import { isTaken } from '../commands/send.ts'
import { useOutbox, useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Field } from '../forms/fields.tsx'
import { useDraft } from '../forms/useDraft.ts'
import { Answer, Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { PhotoImage, useIsUnsent } from '../ui/outboxParts.tsx'
import { Choice, worded } from '../ui/parts.tsx'
import * as own from '../words/notes.ts'
import { useOwnWords } from '../words/words.ts'
import { panelsOf } from './panelView.ts'
import { nameOf, reencoded } from './photo.ts'
import { textSchema } from './plan.ts'

type NotesProps = {
  readonly state: State
  readonly id: string
  readonly job: JobContext
  readonly now: number
}

const WHOLE = ''

/** What was written and photographed of a job; a closed one takes more: defects show weeks later. */
export function Notes({ state, id, job, now }: NotesProps) {
  const say = useOwnWords(own)
  const { sending, ask } = useCommands()
  const text = useDraft(`draft.note.${id}`, textSchema, () => '')
  const about = useSignal(WHOLE)
  const panels = panelsOf(state, id)
  const nameOf = (panel: string | null) =>
    panels.find((view) => view.id === panel)?.panel.name ?? (panel || say.aboutJob)
  const of = about.value === WHOLE ? {} : { panel: about.value }
  const keep = async (event: Event) => {
    event.preventDefault()
    const sent = await ask('AddNote', { job: id, ...of, text: text.value })
    if (isTaken(sent)) text.value = ''
  }
  return (
    <section class="framed notes">
      <h2>{say.notes}</h2>
      <NoteList notes={job.notes} nameOf={nameOf} now={now} />
      {panels.length > 0 && (
        <Choice
          word={say.about}
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
          word={say.note}
          value={text.value}
          onInput={(typed) => {
            text.value = typed
          }}
          required
        />
        <button type="submit" data-act="AddNote">
          {say.addNote}
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
  const { outbox } = words.value
  const say = useOwnWords(own)
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
              alt={say.photoOf(nameOf(note.panel), time(note.at))}
            />
            {isUnsent(note.entry) && <span class="not-yet">{outbox.mark}</span>}
          </button>
        ))}
      </div>
    </>
  )
}

type PhotoTakerProps = {
  readonly job: string
  readonly of: { readonly panel?: string }
  readonly now: number
}

/**
 * A photo taken or chosen, made smaller here, and kept: with the server, or on this device until the
 * server takes it. What could be kept in neither place stays in hand.
 */
function PhotoTaker({ job, of, now }: PhotoTakerProps) {
  const say = useOwnWords(own)
  const out = useOutbox()
  const { sending, ask } = useCommands()
  const inHand = useSignal<Picture | null>(null)
  const isBad = useSignal(false)
  const isLeft = useSignal(false)
  const isBusy = useSignal(false)
  if (out === null) return null

  const send = async (picture: Picture) => {
    const photo = nameOf(picture)
    out.attach(photo, picture)
    const sent = await ask('AddPhoto', { job, ...of, photo })
    inHand.value = sent.kind === 'away' ? picture : null
    isLeft.value = sent.kind !== 'away' && !isTaken(sent)
  }
  const during = async (work: () => Promise<void>) => {
    isBusy.value = true
    isBad.value = false
    isLeft.value = false
    try {
      await work()
    } finally {
      isBusy.value = false
    }
  }
  const take = (file: File) =>
    during(async () => {
      const picture = await reencoded(file).catch(() => null)
      isBad.value = picture === null
      if (picture) await send(picture)
    })
  const picture = inHand.value
  return (
    <div class="photo-taker">
      <label class="button" data-busy={isBusy.value ? '' : undefined}>
        {say.photo}
        <input
          type="file"
          accept="image/*"
          name="photo"
          disabled={isBusy.value}
          onChange={(e) => {
            const file = e.currentTarget.files?.[0]
            e.currentTarget.value = ''
            if (file) void take(file)
          }}
        />
      </label>
      {isBusy.value && (
        <p class="minor" role="status">
          {say.photoBusy}
        </p>
      )}
      {isBad.value && <Sentence>{say.photoBad}</Sentence>}
      {picture && !isBusy.value && (
        <Press act="photoAgain" onPress={() => during(() => send(picture))}>
          {say.photoAgain}
        </Press>
      )}
      <Answer sending={sending.value} now={now} />
      {isLeft.value && <p class="minor">{say.photoLeft}</p>}
    </div>
  )
}
