'use client'

import { useSyncExternalStore } from 'react'
import { LABEL_LAYOUTS, ROLL } from '@/lib/domain/label/sheet'

const KEY = 'label-paper'
const CHANGED = 'label-paper-changed'

function subscribe(listener: () => void): () => void {
  window.addEventListener(CHANGED, listener)
  return () => window.removeEventListener(CHANGED, listener)
}

function readKept(): string {
  const kept = localStorage.getItem(KEY)
  return LABEL_LAYOUTS.find((layout) => layout === kept) ?? ROLL
}

/** Which paper is in the printer beside this device: remembered here, since the next desk has another one. */
export function useLabelPaper(): [layout: string, choose: (layout: string) => void] {
  const layout = useSyncExternalStore(subscribe, readKept, () => ROLL)
  const choose = (next: string) => {
    localStorage.setItem(KEY, next)
    window.dispatchEvent(new Event(CHANGED))
  }
  return [layout, choose]
}
