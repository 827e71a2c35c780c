-- A component has one notice at a time that nobody has released yet, however many score it at once.
CREATE UNIQUE INDEX "stop_notices_one_open" ON "stop_notices"("organisation_id", "vehicle_id", "weak_point", "position") WHERE "released_at" IS NULL;
