'use client'

import type { DeviceRound } from '@/components/moult-round/device-round'
import type { Link } from '@/components/moult-round/round-keeper'
import { Button } from '@/components/ui/button'
import { writeCount } from '@/lib/domain/calendar/wording'

const LINK_WORDS: Record<Link, string> = {
  quiet: '',
  sending: 'Sending …',
  waiting: 'No connection: kept on this device, sent by itself later.',
  'signed-out': 'Signed out: kept on this device.',
  'older-build': 'Load the page anew to send.',
}

type Props = {
  round: DeviceRound
  link: Link
  openShelves: number
  isOver: boolean
  isBegun: boolean
  onFinish: () => void
  onNew: () => void
}

/** How far the walk is, whether all of it has been sent, and its end. */
export function RoundFoot({ round, link, openShelves, isOver, isBegun, onFinish, onNew }: Props) {
  const skins = Object.keys(round.skins).length
  const said = [
    skins > 0 ? writeCount(skins, 'skin') : '',
    openShelves > 0 ? `${openShelves === 1 ? '1 shelf' : `${openShelves} shelves`} to go` : '',
    isOver ? 'The round is finished and recorded.' : '',
    link === 'quiet' && isBegun && round.passed.length > 0 && round.queue.length === 0
      ? 'All sent.'
      : LINK_WORDS[link],
  ]
  return (
    <div className="mt-8 border-ink border-t-2 pt-4">
      <p role="status" className="font-semibold">
        {said.filter(Boolean).join(' · ')}
      </p>
      <div className="mt-3 flex flex-wrap gap-3">
        {openShelves > 0 ? (
          <Button kind="filled" className="min-h-14" onClick={onFinish}>
            All walked: finish the round
          </Button>
        ) : null}
        {isBegun && round.queue.length === 0 ? (
          <Button kind={isOver ? 'filled' : 'quiet'} onClick={onNew}>
            {isOver ? 'Begin a new round' : 'Drop what is not passed and begin anew'}
          </Button>
        ) : null}
      </div>
    </div>
  )
}
