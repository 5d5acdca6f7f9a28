/** A district (stratum) of the invented province. */
export interface District {
  readonly name: string;
  /** Invented number of children under five living there. */
  readonly children: number;
  /** Invented number of clusters (villages, town blocks) the sample was drawn from. */
  readonly clustersInPopulation: number;
  /** How far the district's mean weight-for-height and height-for-age lie from the province's, in z. */
  readonly weightForHeightShift: number;
  readonly heightForAgeShift: number;
}

/** Where and when an invented survey was made, and by whom. */
export interface Fieldwork {
  readonly districts: readonly [District, ...District[]];
  readonly teams: readonly string[];
  /** Days since 1970-01-01: twelve of them. */
  readonly days: readonly number[];
}

/** The invented place. Neither the province nor its districts exist. */
export const province = "Quillmar";

export const districts: readonly [District, District, District] = [
  { name: "Ombrel", children: 21_400, clustersInPopulation: 306, weightForHeightShift: 0.06, heightForAgeShift: 0.07 },
  { name: "Tazvin", children: 34_900, clustersInPopulation: 498, weightForHeightShift: 0, heightForAgeShift: 0 },
  {
    name: "Yundeth",
    children: 27_300,
    clustersInPopulation: 391,
    weightForHeightShift: -0.05,
    heightForAgeShift: -0.06,
  },
];

export const teams = ["T1", "T2", "T3", "T4", "T5", "T6"] as const;

/** Twelve working days from a Monday on, Monday to Saturday of two weeks, in days since 1970-01-01. */
export function workingDays(year: number, month: number, monday: number): readonly number[] {
  const firstDay = Date.UTC(year, month - 1, monday) / 86_400_000;
  return Array.from({ length: 12 }, (_, i) => firstDay + i + Math.floor(i / 6));
}

/** From Monday 7 October 2024. */
export const surveyDays: readonly number[] = workingDays(2024, 10, 7);

/** The fieldwork of the sample survey. */
export const quillmar: Fieldwork = { districts, teams, days: surveyDays };

/** A cluster of the sample: where it lies, who measures there and on which survey days (0 to 11). */
export interface Cluster {
  readonly number: number;
  /** Index into the fieldwork's districts. */
  readonly district: number;
  readonly kind: "village" | "town";
  /** Index into the fieldwork's teams. */
  readonly team: number;
  readonly firstDay: number;
  readonly lastDay: number;
}

/**
 * The plan of the fieldwork. Teams go through the districts by turns, so that over the survey each team works in each
 * district about equally often, early and late: a difference between teams is then not one between districts.
 */
export function planClusters(count: number, fieldwork: Fieldwork = quillmar): readonly Cluster[] {
  const { districts, teams, days } = fieldwork;
  const rounds = Math.ceil(count / teams.length);
  const used = districts.map(() => 0);
  // 101, 102 ... in the first district, 201 ... in the second; longer numbers where a district has more than 99.
  const block = 10 ** Math.max(2, String(Math.ceil(count / districts.length)).length);
  return Array.from({ length: count }, (_, k) => {
    const round = Math.floor(k / teams.length);
    const team = k % teams.length;
    const district = (round + team) % districts.length;
    const serial = (used[district] ?? 0) + 1;
    used[district] = serial;
    const start = Math.floor((round * days.length) / rounds);
    const end = Math.max(start, Math.floor(((round + 1) * days.length) / rounds) - 1);
    const number = block * (district + 1) + serial;
    return { number, district, kind: serial % 4 === 0 ? "town" : "village", team, firstDay: start, lastDay: end };
  });
}
