'use client'

import { useEffect, useState } from 'react'
import { LABEL_LAYOUTS, ROLL } from '@/lib/domain/label/sheet'

const KEY = 'label-paper'

/** Which paper is in the printer beside this device: remembered here, since the next desk has another one. */
export function useLabelPaper(): [layout: string, choose: (layout: string) => void] {
  const [layout, setLayout] = useState<string>(ROLL)
  useEffect(() => {
    const kept = readKept()
    if (kept) setLayout(kept)
  }, [])
  function choose(next: string) {
    setLayout(next)
    try {
      localStorage.setItem(KEY, next)
    } catch {
      // A browser that keeps nothing: it is chosen again next time.
    }
  }
  return [layout, choose]
}

function readKept(): string | undefined {
  try {
    const kept = localStorage.getItem(KEY)
    return LABEL_LAYOUTS.find((layout) => layout === kept)
  } catch {
    return undefined
  }
}
