import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { useShop } from '../commands/shop.ts'
import { Sentence } from '../ui/answer.tsx'
import type { Words } from '../words/en.ts'
import { useHands } from './handsfree.ts'

const sentenceOf = ({ handsfree }: Words): Record<CameraTrouble, string> => ({
  insecure: handsfree.cameraInsecure,
  none: handsfree.cameraNone,
  denied: handsfree.cameraDenied,
  reader: handsfree.cameraReader,
})

/** A button that reads one code with the camera: as if a scanner had read it. */
export function Camera() {
  const { words } = useShop()
  const { hands } = useHands()
  const isOn = useSignal(false)
  const trouble = useSignal<CameraTrouble | null>(null)
  const video = useRef<HTMLVideoElement>(null)
  const { handsfree } = words.value
  useEffect(() => {
    if (!isOn.value || video.current === null) return
    return grab({
      video: video.current,
      onText: (text) => {
        isOn.value = false
        void hands.scan(text)
      },
      onTrouble: (what) => {
        isOn.value = false
        trouble.value = what
      },
    })
  }, [isOn.value])
  const press = () => {
    trouble.value = noCamera(window)
    isOn.value = trouble.value === null && !isOn.value
  }
  return (
    <div class="camera">
      <button type="button" aria-pressed={isOn.value} data-act="camera" onClick={press}>
        {isOn.value ? handsfree.cameraStop : handsfree.camera}
      </button>
      {trouble.value !== null && <Sentence>{sentenceOf(words.value)[trouble.value]}</Sentence>}
      {isOn.value && (
        <>
          <p class="minor">{handsfree.cameraHint}</p>
          {/* Nothing is recorded and nothing has sound. */}
          <video ref={video} muted playsInline />
        </>
      )}
    </div>
  )
}

/** Takes pictures from the camera and has them read by the Worker, a few a second. */

/** Five to eight pictures a second are enough, and leave the page its time. */
const EVERY_MS = 150

type CameraTrouble = 'insecure' | 'none' | 'denied' | 'reader'

/** Why there is no camera at all; null where one may be asked for. */
function noCamera(page: Window): CameraTrouble | null {
  if (!page.isSecureContext) return 'insecure'
  return (page.navigator as Partial<Navigator>).mediaDevices ? null : 'none'
}

/** What a refused camera means. The names are those of the Media Capture standard. */
const troubleOf = (error: unknown): CameraTrouble =>
  error instanceof DOMException && ['NotAllowedError', 'SecurityError'].includes(error.name)
    ? 'denied'
    : 'none'

type Grabbing = {
  readonly video: HTMLVideoElement
  readonly onText: (text: string) => void
  readonly onTrouble: (trouble: CameraTrouble) => void
}

/**
 * Starts the camera and reads until a code is found or it is stopped.
 * @returns stops it
 */
function grab({ video, onText, onTrouble }: Grabbing): () => void {
  const worker = new Worker('/device/cameraWorker.js')
  const canvas = document.createElement('canvas')
  const pen = canvas.getContext('2d', { willReadFrequently: true })
  let stream: MediaStream | null = null
  let isOver = false

  function stop(): void {
    isOver = true
    worker.terminate()
    for (const track of stream?.getTracks() ?? []) track.stop()
    video.srcObject = null
  }

  /** One picture at a time: the next when this one has been read. */
  function picture(): void {
    if (isOver) return
    const { videoWidth: width, videoHeight: height } = video
    if (width === 0 || !pen) {
      setTimeout(picture, EVERY_MS)
      return
    }
    canvas.width = width
    canvas.height = height
    pen.drawImage(video, 0, 0)
    const image = pen.getImageData(0, 0, width, height)
    worker.postMessage(image, [image.data.buffer])
  }

  worker.addEventListener('message', ({ data: text }: MessageEvent<string | null>) => {
    if (isOver) return
    if (text === null) setTimeout(picture, EVERY_MS)
    else {
      stop()
      onText(text)
    }
  })
  worker.addEventListener('error', () => {
    stop()
    onTrouble('reader')
  })

  async function start(): Promise<void> {
    try {
      // Where there are two cameras, the one on the back of the device.
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } })
      if (isOver) return stop()
      video.srcObject = stream
      await video.play()
      picture()
    } catch (error) {
      if (isOver) return
      stop()
      onTrouble(troubleOf(error))
    }
  }

  void start()
  return stop
}
