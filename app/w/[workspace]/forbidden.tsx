export default function ForbiddenHere() {
  return (
    <section className="max-w-xl">
      <h1>Your role does not include this page</h1>
      <p className="mt-2 text-soft">An owner of this workspace can give you another role.</p>
    </section>
  )
}
