import { useSignal } from '@preact/signals'
import { Answer } from '../shop/answer.tsx'
import { useShop } from '../shop/context.ts'
import { isTaken } from '../shop/send.ts'
import { useDeeds } from './deeds.ts'
import { postPhoto, reencoded } from './photo.ts'

type Props = {
  readonly job: string
  readonly of: { readonly panel?: string }
  readonly now: number
}

/** What stands in the way of a photo. The picture stays until it is kept. */
type Trouble = { readonly is: 'bad' | 'away' } | { readonly is: 'wrong'; readonly message: string }

/** A photo taken or chosen, made smaller here, and kept: first the picture, then the word of it in the log. */
export function PhotoTaker({ job, of, now }: Props) {
  const { jobs } = useShop().words.value
  const { sending, ask } = useDeeds()
  const waiting = useSignal<Blob | null>(null)
  const trouble = useSignal<Trouble | null>(null)
  const isBusy = useSignal(false)

  const send = async (picture: Blob) => {
    const posted = await postPhoto((...asked) => fetch(...asked), picture)
    if (posted.is !== 'kept') {
      trouble.value = posted
      return
    }
    const sent = await ask('AddPhoto', { job, ...of, photo: posted.photo })
    if (isTaken(sent)) waiting.value = null
  }
  const during = async (work: () => Promise<void>) => {
    isBusy.value = true
    trouble.value = null
    try {
      await work()
    } finally {
      isBusy.value = false
    }
  }
  const take = (file: File) =>
    during(async () => {
      const picture = await reencoded(file).catch(() => null)
      if (picture === null) {
        trouble.value = { is: 'bad' }
        return
      }
      waiting.value = picture
      await send(picture)
    })
  const picture = waiting.value
  return (
    <div class="photo-taker">
      <label class="button" data-busy={isBusy.value ? '' : undefined}>
        {jobs.photo}
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
          {jobs.photoBusy}
        </p>
      )}
      {trouble.value && (
        <p class="sentence" role="alert">
          {trouble.value.is === 'wrong'
            ? trouble.value.message
            : trouble.value.is === 'bad'
              ? jobs.photoBad
              : jobs.photoAway}
        </p>
      )}
      {picture && !isBusy.value && (
        <button
          type="button"
          data-act="photoAgain"
          onClick={() => void during(() => send(picture))}
        >
          {jobs.photoAgain}
        </button>
      )}
      <Answer sending={sending.value} now={now} />
    </div>
  )
}
