-- Several intakes of one organisation may wait for their turn; scores are brought up to date by one job at a time.
DROP INDEX "jobs_one_running";
CREATE UNIQUE INDEX "jobs_one_rescoring" ON "jobs"("organisation_id") WHERE "state" = 'running' AND "kind" = 'rescore-vehicles';
