'use client'

import { useRouter } from 'next/navigation'
import { showToast } from '../toast'

/** What follows an entry that stays on its page: a short word, and the page as it now is. */
export function useDone(): (what: string) => void {
  const router = useRouter()
  return (what) => {
    showToast({ what })
    router.refresh()
  }
}
