/** Where the database tells that scores of an organisation, whose id the message is, have become stale. */
export const STALE_CHANNEL = 'gudgeon_stale'
