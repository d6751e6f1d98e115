import { SignInAgainProvider } from '@/components/session/sign-in-again-provider'
import { PlainFrame } from '@/components/shell/plain-frame'
import { PageHeader } from '@/components/ui/page-header'
import { listCountryChoices, listCurrencyChoices, listTimeZoneChoices } from '@/lib/domain/place/choices'
import { requireSignedIn } from '@/lib/features/person/loaders'
import { NewWorkspaceForm } from './_components/new-workspace-form'

export const metadata = { title: 'New workspace' }

export default async function NewWorkspacePage() {
  const person = await requireSignedIn('/workspaces/new')
  return (
    <PlainFrame>
      <SignInAgainProvider email={person.email}>
        <PageHeader
          title="New workspace"
          facts="One breeder or one shop. You will be its owner and can invite others."
          parent={{ href: '/', label: 'Your workspaces' }}
        />
        <NewWorkspaceForm
          countries={listCountryChoices()}
          timeZones={listTimeZoneChoices()}
          currencies={listCurrencyChoices()}
        />
      </SignInAgainProvider>
    </PlainFrame>
  )
}
