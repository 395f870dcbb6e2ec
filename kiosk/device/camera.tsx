import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { useShop } from '../commands/shop.ts'
import type { Words } from '../words/en.ts'
import { type CameraTrouble, grab, noCamera } from './cameraFrames.ts'
import { useHands } from './handsContext.ts'

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
      {trouble.value !== null && (
        <p class="sentence" role="alert">
          {sentenceOf(words.value)[trouble.value]}
        </p>
      )}
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
