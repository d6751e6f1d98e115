'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { readScanned, scannedAddress } from '@/lib/domain/label/scan'
import { Button } from '../ui/button'
import { ScanDialog } from './scan-dialog'

/** Opens whatever a label stands for: its animal, its clutch, its egg case. */
export function ScanButton({ workspace }: { workspace: string }) {
  const router = useRouter()
  const [isOpen, setOpen] = useState(false)
  function read(text: string): string | undefined {
    const address = scannedAddress(readScanned(text), { slug: workspace })
    if (!address) return `“${text.slice(0, 40)}” is no label of this service.`
    setOpen(false)
    router.push(address)
    return undefined
  }
  return (
    <>
      <Button kind="quiet" onClick={() => setOpen(true)}>
        Scan
      </Button>
      {isOpen ? <ScanDialog isOpen onClose={() => setOpen(false)} onRead={read} /> : null}
    </>
  )
}
