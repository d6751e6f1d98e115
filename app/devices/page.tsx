import { SignInAgainProvider } from '@/components/session/sign-in-again-provider'
import { SignOut } from '@/components/session/sign-out'
import { PlainFrame } from '@/components/shell/plain-frame'
import { PageHeader } from '@/components/ui/page-header'
import { loadDevicesPage } from '@/lib/features/person/loaders'
import { EndDevice } from './_components/end-device'

export const metadata = { title: 'Devices' }

export default async function DevicesPage() {
  const { person, devices } = await loadDevicesPage()
  return (
    <PlainFrame aside={<SignOut />}>
      <SignInAgainProvider email={person.email}>
        <PageHeader
          title="Devices"
          facts={`Where ${person.email} is signed in`}
          parent={{ href: '/', label: 'Your workspaces' }}
        />
        <ul aria-label="Devices" className="divide-y divide-line">
          {devices.map(({ id, device, signedIn, lastSeen, isThis }) => (
            <li key={id} className="flex flex-wrap items-center justify-between gap-3 py-3.5">
              <div>
                <p className="font-semibold">{device}</p>
                <p className="text-small text-soft">
                  {isThis ? 'This device' : `Last used ${lastSeen}`} · signed in {signedIn}
                </p>
              </div>
              {isThis ? null : <EndDevice id={id} />}
            </li>
          ))}
        </ul>
        <p className="mt-6 text-small text-soft">
          A lost device: sign it out here, and it can do nothing more from its next request on.
        </p>
      </SignInAgainProvider>
    </PlainFrame>
  )
}
