-- Labels with a code of their own, and what drivers report by them.
-- CreateTable
CREATE TABLE "vehicle_labels" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "secret" BYTEA NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "made_by" UUID,
    "ended_at" TIMESTAMPTZ(3),
    "ended_by" UUID,

    CONSTRAINT "vehicle_labels_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "driver_reports" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "vehicle_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "words" TEXT NOT NULL,
    "odometer_km" DOUBLE PRECISION,
    "driver" TEXT,
    "received_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "driver_reports_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateTable
CREATE TABLE "driver_report_acts" (
    "organisation_id" UUID NOT NULL,
    "id" UUID NOT NULL,
    "report_id" UUID NOT NULL,
    "act" TEXT NOT NULL,
    "reason" TEXT,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "by" UUID,
    "undone_at" TIMESTAMPTZ(3),
    "undone_by" UUID,

    CONSTRAINT "driver_report_acts_pkey" PRIMARY KEY ("organisation_id","id")
);

-- CreateIndex
CREATE INDEX "vehicle_labels_organisation_id_vehicle_id_idx" ON "vehicle_labels"("organisation_id", "vehicle_id");

-- CreateIndex
CREATE INDEX "driver_reports_organisation_id_vehicle_id_idx" ON "driver_reports"("organisation_id", "vehicle_id");

-- CreateIndex
CREATE INDEX "driver_report_acts_organisation_id_report_id_idx" ON "driver_report_acts"("organisation_id", "report_id");

-- AddForeignKey
ALTER TABLE "vehicle_labels" ADD CONSTRAINT "vehicle_labels_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "driver_reports" ADD CONSTRAINT "driver_reports_organisation_id_vehicle_id_fkey" FOREIGN KEY ("organisation_id", "vehicle_id") REFERENCES "vehicles"("organisation_id", "id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "driver_report_acts" ADD CONSTRAINT "driver_report_acts_organisation_id_report_id_fkey" FOREIGN KEY ("organisation_id", "report_id") REFERENCES "driver_reports"("organisation_id", "id") ON DELETE CASCADE ON UPDATE CASCADE;


-- By hand: a vehicle has one label that works, and at most one act on a report stands.
CREATE UNIQUE INDEX "vehicle_labels_one_works" ON "vehicle_labels"("organisation_id", "vehicle_id") WHERE "ended_at" IS NULL;
CREATE UNIQUE INDEX "driver_report_acts_one_stands" ON "driver_report_acts"("organisation_id", "report_id") WHERE "undone_at" IS NULL;

-- By hand: row-level security, as for the other tables.
ALTER TABLE "vehicle_labels" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "vehicle_labels" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "vehicle_labels" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
ALTER TABLE "driver_reports" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "driver_reports" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "driver_reports" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
ALTER TABLE "driver_report_acts" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "driver_report_acts" FORCE ROW LEVEL SECURITY;
CREATE POLICY own_organisation ON "driver_report_acts" USING (organisation_id = nullif(current_setting('gudgeon.organisation', true), '')::uuid);
