'use client'

import { type RefObject, useEffect, useState } from 'react'

export type CameraTrouble = { what: string; why: string }

const BETWEEN_PICTURES_MS = 120
/** Enough for a label at arm's length; more only takes longer. */
const WIDTH_PX = 960

/**
 * Shows the camera in a video and looks for a code in it until one is found. The camera is off as soon as the video is
 * gone. Nothing of the picture leaves the device.
 */
export function useCamera(video: RefObject<HTMLVideoElement | null>, onRead: (text: string) => void) {
  const [trouble, setTrouble] = useState<CameraTrouble>()
  // biome-ignore lint/correctness/useExhaustiveDependencies: one camera for as long as the video stands there
  useEffect(() => {
    const ending = new AbortController()
    void watch(video, { onRead, onTrouble: setTrouble, signal: ending.signal })
    return () => ending.abort()
  }, [])
  return trouble
}

type Watching = {
  onRead: (text: string) => void
  onTrouble: (trouble: CameraTrouble) => void
  signal: AbortSignal
}

async function watch(video: RefObject<HTMLVideoElement | null>, watching: Watching): Promise<void> {
  const { onRead, onTrouble, signal } = watching
  if (!navigator.mediaDevices) return onTrouble(NO_HTTPS)
  let stream: MediaStream
  try {
    const wanted = { facingMode: 'environment', width: { ideal: 1280 } }
    stream = await navigator.mediaDevices.getUserMedia({ video: wanted, audio: false })
  } catch (thrown) {
    return onTrouble(sayCamera(thrown))
  }
  const end = () => {
    for (const track of stream.getTracks()) track.stop()
  }
  if (signal.aborted || !video.current) return end()
  signal.addEventListener('abort', end)
  video.current.srcObject = stream
  try {
    await video.current.play()
    const text = await lookForCode(video.current, signal)
    if (text !== undefined && !signal.aborted) onRead(text)
  } catch {
    // Leaving the page in the middle is no trouble; everything else is said.
    if (!signal.aborted) onTrouble(NO_READER)
  }
}

async function lookForCode(video: HTMLVideoElement, signal: AbortSignal): Promise<string | undefined> {
  // Only now: a page without an open camera never loads what reads codes.
  const { readCode } = await import('./read-code')
  const canvas = document.createElement('canvas')
  const context = canvas.getContext('2d', { willReadFrequently: true })
  while (!signal.aborted && context) {
    if (video.videoWidth > 0) {
      canvas.width = Math.min(WIDTH_PX, video.videoWidth)
      canvas.height = Math.round((video.videoHeight * canvas.width) / video.videoWidth)
      context.drawImage(video, 0, 0, canvas.width, canvas.height)
      const text = await readCode(context.getImageData(0, 0, canvas.width, canvas.height))
      if (text) return text
    }
    await new Promise((resolve) => setTimeout(resolve, BETWEEN_PICTURES_MS))
  }
  return undefined
}

const NO_HTTPS: CameraTrouble = {
  what: 'No camera over plain http.',
  why: 'Browsers lend the camera to pages that came over https only. Type the code instead.',
}
const NO_READER: CameraTrouble = {
  what: 'Codes cannot be read just now.',
  why: 'The reader did not load. Check the connection and try again, or type the code.',
}

function sayCamera(thrown: unknown): CameraTrouble {
  const name = thrown instanceof DOMException ? thrown.name : ''
  if (name === 'NotAllowedError')
    return {
      what: 'The camera may not be used here.',
      why: 'Allow it for this page in the settings of the browser, or type the code.',
    }
  if (name === 'NotFoundError' || name === 'OverconstrainedError')
    return { what: 'This device has no camera.', why: 'Type the code instead.' }
  return {
    what: 'The camera does not start.',
    why: 'Another program may be using it. Close that and try again.',
  }
}
