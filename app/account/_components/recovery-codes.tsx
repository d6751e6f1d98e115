'use client'

import { Button } from '@/components/ui/button'

type Props = { codes: string[]; onKept: () => void }

/** Shown once: the service keeps only what it needs to recognise them. */
export function RecoveryCodes({ codes, onKept }: Props) {
  return (
    <div role="status" className="max-w-xl">
      <p className="font-semibold">The second factor is on. Write these recovery codes down now.</p>
      <p className="mt-1 text-small text-soft">
        Each opens the door once when the device with the app is lost. They are not shown again: keep them on
        paper, away from that device.
      </p>
      <ul aria-label="Recovery codes" className="my-4 grid grid-cols-1 gap-1 font-mono desk:grid-cols-2">
        {codes.map((code) => (
          <li key={code}>{code}</li>
        ))}
      </ul>
      <Button kind="filled" onClick={onKept}>
        I have them on paper
      </Button>
    </div>
  )
}
