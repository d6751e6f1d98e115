'use client'

import { useSyncExternalStore } from 'react'
import { LABEL_LAYOUTS, ROLL } from '@/lib/domain/label/sheet'
import { keepOnDevice, readDevice } from '../offline/device-storage'

const KEY = 'label-paper'
const CHANGED = 'label-paper-changed'

/** Where the device remembers nothing, the choice holds until the page is left. */
let onPage: string | null = null

function subscribe(listener: () => void): () => void {
  window.addEventListener(CHANGED, listener)
  return () => window.removeEventListener(CHANGED, listener)
}

function readKept(): string {
  const kept = onPage ?? readDevice(KEY)
  return LABEL_LAYOUTS.find((layout) => layout === kept) ?? ROLL
}

/** Which paper is in the printer beside this device: remembered here, since the next desk has another one. */
export function useLabelPaper(): [layout: string, choose: (layout: string) => void] {
  const layout = useSyncExternalStore(subscribe, readKept, () => ROLL)
  const choose = (next: string) => {
    onPage = keepOnDevice(KEY, next) ? null : next
    window.dispatchEvent(new Event(CHANGED))
  }
  return [layout, choose]
}
