'use client'

import { useId, useState } from 'react'
import { shrinkPicture } from '@/components/individual/shrink-picture'
import { OutcomeNotice } from '@/components/ui/form/outcome-notice'
import { useDone } from '@/components/ui/form/use-done'
import { useSending } from '@/components/ui/form/use-sending'
import { Notice } from '@/components/ui/notice'
import { addPhotoAction } from '@/lib/features/photo/actions'

type Props = { workspace: string; individual: string }

/** Takes a picture from the camera or a folder, makes it small enough on the device, and sends it. */
export function AddPhoto({ workspace, individual }: Props) {
  const id = useId()
  const done = useDone()
  const [problem, setProblem] = useState<string | null>(null)
  const [picture, setPicture] = useState<string | null>(null)
  const { send, isSending, outcome } = useSending<{ id: string }>({ action: addPhotoAction, workspace })
  async function sendPicture(shrunk: string) {
    const sent = await send({ individual, picture: shrunk })
    if (sent?.result?.status !== 'done') return
    setPicture(null)
    done('The photo is kept.')
  }
  async function take(file: File | undefined) {
    if (!file) return
    setProblem(null)
    const shrunk = await shrinkPicture(file)
    if (!shrunk) {
      setProblem('This cannot be read as a picture. JPEG, PNG and WebP can.')
      return
    }
    setPicture(shrunk)
    await sendPicture(shrunk)
  }
  return (
    <div className="mt-3 space-y-2">
      <label htmlFor={id} className="block text-small text-soft">
        {isSending ? 'Sending the photo …' : 'Add a photo'}
      </label>
      <input
        id={id}
        type="file"
        accept="image/jpeg,image/png,image/webp"
        disabled={isSending}
        className="target w-full py-2"
        onChange={(event) => {
          void take(event.target.files?.[0])
          event.target.value = ''
        }}
      />
      {problem ? <Notice state="late" isAnnounced what={problem} /> : null}
      <OutcomeNotice
        outcome={outcome}
        onRetry={() => void (picture && sendPicture(picture))}
        onReload={() => window.location.reload()}
      />
    </div>
  )
}
