import Link from 'next/link'
import { CopyButton } from '@/components/ui/copy-button'

type Props = { workspace: string; zoneId: string }

/** How a thermometer with a network sends its readings here by itself. */
export function SensorHelp({ workspace, zoneId }: Props) {
  const call = `curl -X POST "$ADDRESS/api/v1/zones/${zoneId}/readings" -H "Authorization: Bearer $TOKEN" -H "Content-Type: application/json" -d '[{"at":"2026-11-24T08:00:00Z","temperatureC":26.4,"humidityPct":62}]'`
  return (
    <section>
      <details>
        <summary className="target inline-flex items-center font-semibold">Let a sensor write</summary>
        <div className="space-y-3 text-small">
          <p>
            Anything that can send a web request may send readings, oldest first, up to 10,000 at once and in
            °C. Sending the same again changes nothing. It needs a{' '}
            <Link href={`/w/${workspace}/tokens`} prefetch={false}>
              token
            </Link>{' '}
            that acts as a keeper; put this service’s address and the token where the capitals are.
          </p>
          <pre className="overflow-x-auto whitespace-pre-wrap break-all border border-edge bg-sheet p-3 text-fine-print">
            {call}
          </pre>
          <CopyButton text={call} label="Copy the call" />
          <p className="text-soft">
            A zone that is watched also says when its sensor has fallen silent. A sensor warns; it protects
            nothing: heaters need a thermostat and a cut-out of their own.
          </p>
        </div>
      </details>
    </section>
  )
}
