import type { Source } from "./schema.js";

/**
 * Every source the project relies on, with how far it was confirmed by its authors: 'confirmed' was read in the source,
 * 'partly' its gist was seen, 'memory' was not seen, 'practice' is common practice without a source, 'computed' was
 * derived here. A source that was not read is printed as such.
 */
const list: readonly Source[] = [
  {
    id: "who-2006",
    reference:
      "WHO Multicentre Growth Reference Study Group. WHO Child Growth Standards: length/height-for-age, weight-for-age, weight-for-length, weight-for-height and body mass index-for-age: methods and development. Geneva: World Health Organization; 2006.",
    status: "confirmed",
  },
  {
    id: "who-2007",
    reference:
      "WHO Multicentre Growth Reference Study Group. WHO Child Growth Standards: head circumference-for-age, arm circumference-for-age, triceps skinfold-for-age and subscapular skinfold-for-age: methods and development. Geneva: World Health Organization; 2007.",
    status: "partly",
  },
  {
    id: "de-onis-2019",
    reference:
      "de Onis M, Borghi E, Arimond M, et al. Prevalence thresholds for wasting, overweight and stunting in children under 5 years. Public Health Nutrition 2019;22:175-9. The multiples that define the classes were read; the rounded percentages follow from them.",
    status: "confirmed",
  },
  {
    id: "joint-statement-2009",
    reference:
      "WHO and UNICEF. WHO child growth standards and the identification of severe acute malnutrition in infants and children: joint statement. Geneva and New York; 2009.",
    status: "confirmed",
  },
  {
    id: "who-2023",
    reference:
      "WHO guideline on the prevention and management of wasting and nutritional oedema (acute malnutrition) in infants and children under 5 years. Geneva: World Health Organization; 2023. The glossary was read.",
    status: "partly",
  },
];

export const sources: ReadonlyMap<string, Source> = new Map(list.map((source) => [source.id, source]));
