'use client'

import { useRef, useState } from 'react'
import { Button } from '../ui/button'
import { Dialog } from '../ui/dialog'
import { Notice } from '../ui/notice'
import { useCamera } from './use-camera'

type Props = {
  isOpen: boolean
  onClose: () => void
  /** Says why a text is of no use here; undefined where it was taken. */
  onRead: (text: string) => string | undefined
}

/** The camera, until it has seen a label that is of use. */
export function ScanDialog({ isOpen, onClose, onRead }: Props) {
  const [refusal, setRefusal] = useState<string>()
  const [attempt, setAttempt] = useState(0)
  function read(text: string) {
    const why = onRead(text)
    setRefusal(why)
    // A torn label or a stranger's code: look again.
    if (why !== undefined) setAttempt((count) => count + 1)
    else navigator.vibrate?.(30)
  }
  return (
    <Dialog isOpen={isOpen} onOpenChange={(open) => !open && onClose()} place="sheet" title="Scan a label">
      <Viewer key={attempt} onRead={read} />
      {refusal ? (
        <div className="mt-3">
          <Notice state="due" isAnnounced what={refusal} />
        </div>
      ) : (
        <p className="mt-3 text-small text-soft">
          Hold the square code of a cup or a sheet in front of the camera.
        </p>
      )}
      <div className="mt-4">
        <Button kind="quiet" onClick={onClose}>
          Not now
        </Button>
      </div>
    </Dialog>
  )
}

function Viewer({ onRead }: { onRead: (text: string) => void }) {
  const video = useRef<HTMLVideoElement>(null)
  const trouble = useCamera(video, onRead)
  if (trouble) return <Notice state="late" isAnnounced {...trouble} />
  return (
    <video
      ref={video}
      muted
      playsInline
      aria-label="What the camera sees"
      className="aspect-[4/3] w-full rounded-edge border border-line bg-ink object-cover"
    />
  )
}
