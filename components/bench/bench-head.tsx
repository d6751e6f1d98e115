import type { Connection } from '../offline/device'
import { LatinName } from '../ui/latin-name'

type Props = {
  clutchCode: string
  scientificName: string
  connection: Connection
  waitingCount: number
  maySleep: boolean
  /** Over plain http the page itself does not open without a connection. */
  needsConnection: boolean
}

function sayConnection(connection: Connection, waitingCount: number): string {
  const waiting = waitingCount === 0 ? '' : `${waitingCount} waiting to send`
  if (connection === 'offline') return waiting ? `No connection, ${waiting}` : 'No connection, go on counting'
  return waiting || 'All sent'
}

export function BenchHead(props: Props) {
  const { clutchCode, scientificName, connection, waitingCount, maySleep, needsConnection } = props
  return (
    <header className="flex flex-wrap items-baseline justify-between gap-x-4">
      <h1 className="text-lead">
        {clutchCode}{' '}
        <span className="font-normal">
          <LatinName name={scientificName} />
        </span>
      </h1>
      <p className="text-fine-print text-soft">
        <span className={connection === 'offline' ? 'font-semibold text-hand' : undefined}>
          {sayConnection(connection, waitingCount)}
        </span>
        {maySleep ? ' · the screen may go dark' : null}
        {needsConnection ? ' · plain http: leave this page open' : null}
      </p>
    </header>
  )
}
