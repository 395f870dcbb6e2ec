import { useSignal } from '@preact/signals'
import { useOutbox } from '../commands/outboxContext.ts'
import type { Picture } from '../commands/picture.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer } from '../ui/answer.tsx'
import { nameOf, reencoded } from './photo.ts'

type Props = {
  readonly job: string
  readonly of: { readonly panel?: string }
  readonly now: number
}

/**
 * A photo taken or chosen, made smaller here, and kept: with the server, or on this device until the
 * server takes it. What could be kept in neither place stays in hand.
 */
export function PhotoTaker({ job, of, now }: Props) {
  const { jobs } = useShop().words.value
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
      {isBad.value && (
        <p class="sentence" role="alert">
          {jobs.photoBad}
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
      {isLeft.value && <p class="minor">{jobs.photoLeft}</p>}
    </div>
  )
}
