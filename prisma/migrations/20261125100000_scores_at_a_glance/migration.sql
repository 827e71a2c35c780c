-- Whether any score has changed is seen at the same glance.
DROP INDEX "vehicle_scores_at_a_glance";
CREATE INDEX "vehicle_scores_at_a_glance" ON "vehicle_scores"("organisation_id", "urgency", "horizon_days", "as_of", "last_full_scan_on", "last_looked_at_on", "scored_at");
