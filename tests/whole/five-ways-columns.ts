/** A column as each of the files names it, and how its values are typed. */
export interface Column {
  /** Name in the invented form's export, which the comma file keeps. */
  readonly form: string;
  /** Heading of the French file and of the workbook. */
  readonly french: string;
  readonly heading: string;
  readonly type: "text" | "int" | "double" | "date";
  readonly role?: string;
  /** Whether it belongs to the household or to the child. */
  readonly of: "house" | "child";
}

export const columns: readonly Column[] = [
  {
    form: "visit/today",
    french: "date de visite",
    heading: "Visit date",
    type: "date",
    role: "interview-date",
    of: "house",
  },
  { form: "visit/team_code", french: "équipe", heading: "Team", type: "text", role: "team", of: "house" },
  { form: "place/district", french: "district", heading: "District", type: "text", role: "stratum", of: "house" },
  { form: "place/cluster_no", french: "n° grappe", heading: "Cluster no", type: "int", role: "cluster", of: "house" },
  { form: "place/house_no", french: "n° ménage", heading: "House no", type: "int", role: "household", of: "house" },
  {
    form: "office/sampling_weight",
    french: "coefficient de pondération",
    heading: "Sampling weight",
    type: "double",
    role: "sampling-weight",
    of: "house",
  },
  { form: "child/line_no", french: "n° enfant", heading: "Line no", type: "int", of: "child" },
  { form: "child/first_name", french: "prénom", heading: "First name", type: "text", of: "child" },
  { form: "child/sex", french: "sexe", heading: "Sex", type: "text", role: "sex", of: "child" },
  {
    form: "child/age_known_by",
    french: "source de l'âge",
    heading: "Age known by",
    type: "text",
    role: "age-known-how",
    of: "child",
  },
  {
    form: "child/birth_date",
    french: "date de naissance",
    heading: "Birth date",
    type: "date",
    role: "birth-date",
    of: "child",
  },
  {
    form: "child/age_months",
    french: "âge en mois",
    heading: "Age in months",
    type: "int",
    role: "age-months",
    of: "child",
  },
  {
    form: "child/weight_kg",
    french: "poids (kg)",
    heading: "Weight (kg)",
    type: "double",
    role: "weight",
    of: "child",
  },
  {
    form: "child/height_cm",
    french: "taille (cm)",
    heading: "Length or height (cm)",
    type: "double",
    role: "height",
    of: "child",
  },
  {
    form: "child/measured_how",
    french: "position",
    heading: "Measured how",
    type: "text",
    role: "position",
    of: "child",
  },
  {
    form: "child/arm_mm",
    french: "périmètre brachial (mm)",
    heading: "Arm (mm)",
    type: "int",
    role: "arm-circumference",
    of: "child",
  },
  {
    form: "child/swelling_both_feet",
    french: "œdèmes",
    heading: "Swelling, both feet",
    type: "text",
    role: "oedema",
    of: "child",
  },
];

/** What the French file writes in place of the form's values. */
export const frenchValues: Readonly<Record<string, string>> = {
  boy: "garçon",
  girl: "fille",
  "health card": "carnet de santé",
  "birth certificate": "acte de naissance",
  "calendar of events": "calendrier d'événements",
  lying: "couché",
  standing: "debout",
  yes: "oui",
  no: "non",
  "name not kept": "nom non conservé",
};
