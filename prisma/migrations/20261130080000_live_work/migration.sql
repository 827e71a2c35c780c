-- Whether any work and any breakdown is on record is asked with every watchlist: without this every repair of every
-- organisation was read until one was found.
CREATE INDEX "repairs_live_work" ON "repairs"("organisation_id", "found")
  WHERE "superseded_at" IS NULL AND "withdrawn_at" IS NULL AND "weak_point" <> 'other';
