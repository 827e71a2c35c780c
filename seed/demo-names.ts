/** What the invented organisations are called: apart, for a later start asks for no more of them than that. */
export const RURAL_FLEET_NAME = 'Tussock & Sedge Rural Services'
export const DEALER_NAME = 'Glasswort & Thrift Used Vehicles'
export const REPAIR_SHOP_NAME = 'Crowberry & Ling Garage'

/** In the order of the demo's door. */
export const DEMO_NAMES: readonly string[] = [RURAL_FLEET_NAME, DEALER_NAME, REPAIR_SHOP_NAME]
