import { quillmar } from "./place.js";
import type { FieldRecord } from "./record.js";
import type { ExampleSurvey } from "./survey.js";

const positions = ["", "lying", "standing"] as const;
const sexes = ["", "boy", "girl"] as const;
const swellings = ["no", "yes", ""] as const;

function isoDay(day: number | undefined): string {
  return day === undefined || Number.isNaN(day) ? "" : new Date(day * 86_400_000).toISOString().slice(0, 10);
}

/** As an export writes it: no trailing zeros, nothing where nothing was written. */
function numberText(value: number): string {
  return Number.isNaN(value) ? "" : String(value);
}

/** A column of the file: its name, with the path of the form's groups, and the text of a record. */
interface Column {
  readonly name: string;
  /** `days`: the fieldwork's. */
  readonly text: (record: FieldRecord, days: readonly number[]) => string;
}

export const columns: readonly Column[] = [
  { name: "visit/today", text: (r, days) => isoDay(days[r.day]) },
  { name: "visit/team_code", text: (r) => r.team },
  { name: "place/district", text: (r) => r.district },
  { name: "place/cluster_no", text: (r) => String(r.cluster) },
  { name: "place/kind", text: (r) => r.clusterKind },
  { name: "place/house_no", text: (r) => String(r.house) },
  { name: "carer/phone", text: () => "phone not kept" },
  { name: "child/line_no", text: (r) => String(r.line) },
  { name: "child/first_name", text: () => "name not kept" },
  { name: "child/sex", text: (r) => sexes[r.sex] },
  { name: "child/age_known_by", text: (r) => r.ageKnownBy },
  { name: "child/birth_date", text: (r) => isoDay(r.birthDay) },
  { name: "child/age_months", text: (r) => numberText(r.ageMonths) },
  { name: "child/outcome", text: (r) => r.outcome },
  { name: "child/weight_kg", text: (r) => numberText(r.weight) },
  { name: "child/height_cm", text: (r) => numberText(r.height) },
  { name: "child/measured_how", text: (r) => positions[r.position] },
  { name: "child/arm_mm", text: (r) => numberText(r.arm) },
  { name: "child/swelling_both_feet", text: (r) => swellings[r.oedema] },
  { name: "office/sampling_weight", text: (r) => numberText(r.samplingWeight) },
];

/** The survey as the form's export writes it: comma-separated UTF-8 text, one child a line, ISO dates. No value needs quotes. */
export function toCsv(survey: ExampleSurvey): string {
  const { days } = survey.options.fieldwork ?? quillmar;
  const header = columns.map((column) => column.name).join(",");
  const lines = survey.records.map((record) => columns.map((column) => column.text(record, days)).join(","));
  return `${[header, ...lines].join("\n")}\n`;
}
