import { useSignal } from '@preact/signals'
import { type Gone, jsonLines } from '../commands/logMemory.ts'
import { backupLateText, diskText, lossText } from '../commands/refusalText.ts'
import { type ServerView, useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { type Kiosk, screenNow } from '../device/runtime.ts'
import { again } from '../ui/again.ts'
import { Answer } from '../ui/answer.tsx'
import { Press, Toggle } from '../ui/buttons.tsx'
import { saveFile } from '../ui/outboxParts.tsx'
import { hashOf } from '../ui/route.ts'
import { later } from '../ui/screen.tsx'

export { OneNotKnown } from './oneNotKnown.tsx'
export { Wipe } from './wipe.tsx'

/** Fetched where a printer does not print: its words are many. */
const PrintNotice = later<object>(
  async () => (await again(() => import('./printNotice.tsx'))).PrintNotice,
)

/** Each says what is wrong, if it is. */
export function ServerNotices({ kiosk, server }: { kiosk: Kiosk; server: ServerView }) {
  return (
    <>
      <ClockNotice kiosk={kiosk} server={server} />
      <DiskNotice server={server} />
      <LossNotice server={server} />
      <GoneNotice server={server} />
      <ResetNotice server={server} />
      <BackupNotice server={server} />
      {server.said.value?.printing && <PrintNotice />}
    </>
  )
}

/** Day and time: a clock in doubt may be off by days. */
function useDayTime(): (ms: number) => string {
  const { format } = useShop()
  return (ms) => `${format.value.fullDate(ms)} ${format.value.time(ms)}`
}

function ClockNotice({ kiosk, server }: { kiosk: Kiosk; server: ServerView }) {
  const { words, format } = useShop()
  const dayTime = useDayTime()
  const { sending, ask } = useCommands()
  const isTyping = useSignal(false)
  const typed = useSignal('')
  const said = server.said.value
  const doubt = said?.clock.doubt ?? null
  if (said === null || doubt === null) return null
  const nowMs = screenNow(kiosk).value
  const wallMs = said.clock.wallMs + (nowMs - said.serverTime)
  const { server: say } = words.value
  const confirm = (ms: number) => void ask('ConfirmClock', { nowMs: Math.round(ms) })
  const typedMs = format.value.instant(typed.value)
  const { busy } = sending.value
  return (
    <section class="notice" role="alert" data-doubt={doubt}>
      <p>
        <b>{say.clockTitle}.</b> {words.value.said.doubts[doubt]} {say.counts(dayTime(nowMs))}{' '}
        {say.shows(dayTime(wallMs))}
      </p>
      <div class="keys">
        <Press isOff={busy} onPress={() => confirm(nowMs)}>
          {say.itIs(dayTime(nowMs))}
        </Press>
        <Press isOff={busy} onPress={() => confirm(wallMs)}>
          {say.itIs(dayTime(wallMs))}
        </Press>
        <Toggle isOpen={isTyping}>{say.other}</Toggle>
      </div>
      {isTyping.value && (
        <form
          class="keys"
          onSubmit={(event) => {
            event.preventDefault()
            if (!Number.isNaN(typedMs)) confirm(typedMs)
          }}
        >
          <label>
            {say.type}{' '}
            <input
              type="datetime-local"
              value={typed.value}
              onInput={(event) => {
                typed.value = event.currentTarget.value
              }}
            />
          </label>
          <button type="submit" disabled={busy || Number.isNaN(typedMs)}>
            {say.confirm}
          </button>
        </form>
      )}
      <Answer sending={sending.value} now={nowMs} />
    </section>
  )
}

/** The server keeps nothing that is pressed, or soon will not: it goes away when that is mended. */
function DiskNotice({ server }: { server: ServerView }) {
  const { words, format } = useShop()
  const trouble = server.said.value?.disk ?? null
  if (trouble === null) return null
  return (
    <section class="notice" role="alert" data-disk={trouble.code}>
      <p>
        <b>{diskText(trouble, { words: words.value, format: format.value })}</b>
      </p>
    </section>
  )
}

/** No backup was made of late: everybody sees it, one goes and looks. */
function BackupNotice({ server }: { server: ServerView }) {
  const { words, format } = useShop()
  const late = server.said.value?.backup ?? null
  if (late === null) return null
  return (
    <section class="notice" role="status" data-backup-late>
      <p>{backupLateText(late, { words: words.value, format: format.value })}</p>
      <div class="keys">
        <a class="button" href={hashOf('setup', 'backup')}>
          {words.value.server.backup}
        </a>
      </div>
    </section>
  )
}

/** The mark beside the server's log knows of more than the log has. */
function LossNotice({ server }: { server: ServerView }) {
  const { words, format } = useShop()
  const loss = server.said.value?.loss ?? null
  if (loss === null) return null
  const { server: say } = words.value
  return (
    <section class="notice" role="alert" data-loss={loss.kind}>
      <p>
        <b>{lossText(loss, { words: words.value, format: format.value })}</b> {say.restore}
      </p>
      <div class="keys">
        <Press onPress={() => server.dismissLoss(loss.knownHash)}>{say.dismiss}</Press>
      </div>
    </section>
  )
}

/** This kiosk knows entries that the server's log does not have: it can hand them over. */
function GoneNotice({ server }: { server: ServerView }) {
  const { words } = useShop()
  const dayTime = useDayTime()
  const isSaved = useSignal(false)
  const isAsked = useSignal(false)
  const gone = server.memory.gone.value
  const [first, last] = [gone?.entries[0], gone?.entries.at(-1)]
  if (!gone || !first || !last) return null
  const { server: say } = words.value
  const isSure = isSaved.value || isAsked.value
  return (
    <section class="notice" role="alert" data-gone={gone.entries.length}>
      <p>
        <b>{say.gone(gone.entries.length, dayTime(first.recordedAt), dayTime(last.recordedAt))}</b>{' '}
        {say.restore}
      </p>
      <div class="keys">
        <Press
          onPress={() => {
            save(gone)
            isSaved.value = true
          }}
        >
          {say.save}
        </Press>
        <Press
          onPress={() => {
            if (isSure) void server.memory.dismiss()
            else isAsked.value = true
          }}
        >
          {isAsked.value && !isSaved.value ? say.dismissUnsaved : say.dismiss}
        </Press>
      </div>
    </section>
  )
}

/** The log is not the one that this kiosk followed, and neither side can say what it lacks. */
function ResetNotice({ server }: { server: ServerView }) {
  const { words } = useShop()
  const { reset, dismissReset } = server.tail
  const isSaid = server.said.value?.loss || server.memory.gone.value
  if (reset.value === null || isSaid) return null
  const { server: say } = words.value
  return (
    <section class="notice" role="alert" data-reset={reset.value.params.unknown}>
      <p>
        <b>{say.replaced(reset.value.params.head)}</b> {say.restore}
      </p>
      <div class="keys">
        <Press onPress={dismissReset}>{say.dismiss}</Press>
      </div>
    </section>
  )
}

/** One entry a line. */
const save = ({ entries, knownHead }: Gone): void =>
  saveFile(`flashbell-entries-up-to-${knownHead}.jsonl`, jsonLines(entries), 'application/jsonl')
