declare const brand: unique symbol

/**
 * An organisation that somebody may work in. Only `people`, `jobs` and `commands` mint one (a dependency rule holds
 * them to it), after they have made sure of that; whatever reads or writes rows asks for one, so that a forgotten
 * organisation does not compile.
 */
export type OrganisationId = string & { readonly [brand]: true }

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/

/** Mints an organisation's id. The caller answers for the right to use it. */
export function organisationId(text: string): OrganisationId {
  if (!UUID.test(text)) throw new Error(`Not the id of an organisation: ${text}`)
  return text as OrganisationId
}
