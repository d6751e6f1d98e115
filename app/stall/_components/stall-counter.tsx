'use client'

import { useState } from 'react'
import type { PageCopy } from '@/components/offline/use-page-copy'
import type { StallDevice, StallState } from '@/components/stall/stall-device'
import { countSoldIn, isUnsentReceipt, type KeptReceipt, listSoldIn } from '@/components/stall/stall-store'
import { Button } from '@/components/ui/button'
import { Notice } from '@/components/ui/notice'
import type { StallPart } from '@/lib/features/stall/schema'
import { AnimalChoice } from './animal-choice'
import { ItemChoice } from './item-choice'
import { StallReceipt } from './stall-receipt'
import { StallSaleForm } from './stall-sale-form'
import { WrittenReceipts } from './written-receipts'

type Props = {
  kept: StallPart
  device: StallDevice
  state: StallState
  copy: PageCopy
  onRefresh: () => void
}

/** Choose a cup, take the money, hand over the paper; all of it without a connection. */
export function StallCounter({ kept, device, state, copy, onRefresh }: Props) {
  const [chosen, setChosen] = useState<string[]>([])
  const [things, setThings] = useState<number[]>([])
  const [isOther, setOther] = useState(false)
  const [shown, setShown] = useState<KeptReceipt | null>(null)
  const own = state.receipts.filter(({ sent }) => sent.series === kept.part.series)
  const sold = listSoldIn(state.receipts, kept.part.series)
  const add = (id: string) => setChosen((before) => (before.includes(id) ? before : [...before, id]))
  function sell(receipt: KeptReceipt) {
    setShown(receipt)
    setChosen([])
    setThings([])
    setOther(false)
  }
  return (
    <div className="mx-auto max-w-3xl px-4 py-4 print:p-0">
      <StallHead {...{ kept, state, copy, device, onRefresh }} waiting={own.filter(isUnsentReceipt).length} />
      <main id="main" className="mt-4 space-y-6 print:m-0">
        {shown ? (
          <StallReceipt kept={kept} receipt={shown} onNext={() => setShown(null)} />
        ) : (
          <>
            <AnimalChoice kept={kept} sold={sold} chosen={chosen} onChoose={add} />
            <ItemChoice
              kept={kept}
              sold={countSoldIn(state.receipts, kept.part)}
              chosen={things}
              onChoose={(number) => setThings((before) => [...before, number])}
            />
            {chosen.length + things.length > 0 || isOther ? (
              <StallSaleForm
                key={own.length}
                {...{ kept, device, isOther }}
                items={chosen.flatMap((id) => kept.animals.find((animal) => animal.id === id) ?? [])}
                things={things.flatMap((number) => kept.items?.find((item) => item.number === number) ?? [])}
                onLeaveOut={(number) => setThings(things.filter((each) => each !== number))}
                onRemove={(id) => setChosen(chosen.filter((each) => each !== id))}
                onSold={sell}
              />
            ) : null}
            {isOther ? null : (
              <Button kind="quiet" className="-ms-4" onClick={() => setOther(true)}>
                Sell something that is not in the box
              </Button>
            )}
            <WrittenReceipts kept={kept} receipts={own} onShow={setShown} />
          </>
        )}
      </main>
    </div>
  )
}

type HeadProps = Props & { waiting: number }

function StallHead({ kept, device, state, copy, waiting, onRefresh }: HeadProps) {
  const { isSignedOut, connection, receipts } = state
  const isRefused = receipts.some((one) => one.state === 'refused' && one.sent.series === kept.part.series)
  return (
    <header className="no-print space-y-3">
      <div className="flex flex-wrap items-baseline justify-between gap-x-4">
        <h1 className="text-lead">
          {kept.box.name} <span className="font-normal">part {kept.part.series}</span>
        </h1>
        <p role="status" className="text-fine-print text-soft">
          <span className={connection === 'offline' ? 'font-semibold text-hand' : undefined}>
            {sayConnection(connection, waiting)}
          </span>
          {copy === 'plain-http' ? ' · plain http: leave this page open' : null}
        </p>
      </div>
      <p className="flex flex-wrap gap-x-4 text-small">
        <a href="/stall" className="target inline-flex items-center underline">
          What this device has
        </a>
        <Button kind="quiet" onClick={onRefresh}>
          Bring up to date
        </Button>
      </p>
      {isSignedOut ? (
        <Notice
          state="due"
          what="Nobody is signed in on this device."
          why="Receipts stay here and are sent after signing in."
          next={<Button onClick={() => device.setSigningIn(true)}>Sign in</Button>}
        />
      ) : null}
      {isRefused ? (
        <Notice
          state="late"
          isAnnounced
          what="The service did not take a receipt."
          why="It stays on this device, and the later ones with it. What it says stands in the list below."
          next={<Button onClick={() => void device.sendAgain()}>Send it again</Button>}
        />
      ) : null}
    </header>
  )
}

function sayConnection(connection: StallState['connection'], waiting: number): string {
  const left = waiting === 0 ? '' : `${waiting} ${waiting === 1 ? 'receipt' : 'receipts'} waiting to be sent`
  if (connection === 'offline') return left ? `No connection, ${left}` : 'No connection, go on selling'
  return left || 'All sent'
}
