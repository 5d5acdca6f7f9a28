import type { Source } from "./schema.js";

/**
 * Every source the project relies on, with how far it was confirmed by its authors: 'confirmed' was read in the source,
 * 'partly' its gist was seen, 'memory' was not seen, 'practice' is common practice without a source, 'computed' was
 * derived here. A source that was not read is printed as such. What was taken from a publication, or how far it was read, is
 * told by the message `source.note.<id>`; a source that is no publication by `source.text.<id>`, in place of its reference.
 */
const list = [
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
      "de Onis M, Borghi E, Arimond M, et al. Prevalence thresholds for wasting, overweight and stunting in children under 5 years. Public Health Nutrition 2019;22:175-9.",
    status: "partly",
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
      "WHO guideline on the prevention and management of wasting and nutritional oedema (acute malnutrition) in infants and children under 5 years. Geneva: World Health Organization; 2023.",
    status: "partly",
  },
  {
    id: "iussp-sex-ratio",
    reference:
      "International Union for the Scientific Study of Population. Population Analysis for Policies and Programmes, PAPP101.",
    status: "confirmed",
  },
  {
    id: "alkema-2014",
    reference:
      "Alkema L, Chao F, You D, Pedersen J, Sawyer CC. National, regional, and global sex ratios of infant, child, and under-5 mortality. Lancet Glob Health 2014;2:e521-30.",
    status: "confirmed",
  },
  {
    id: "stable-population",
    reference: "Stable population (own computation)",
    status: "computed",
  },
  {
    id: "own-age-windows",
    reference: "Ages against neighbouring months (own computation)",
    status: "computed",
  },
  {
    id: "repeats-by-chance",
    reference: "Equal rows by chance (own computation)",
    status: "computed",
  },
  {
    id: "ondo-dhs",
    reference: "Demographic and Health Survey of Ondo State, Nigeria, report.",
    status: "confirmed",
  },
  {
    id: "shryock-siegel-1976",
    reference:
      "Shryock HS, Siegel JS. The methods and materials of demography (condensed edition by Stockwell EG). New York: Academic Press; 1976.",
    status: "memory",
  },
  {
    id: "myers-1940",
    reference:
      "Myers RJ. Errors and bias in the reporting of ages in census data. Trans Actuar Soc Am 1940;41:395-415.",
    status: "memory",
  },
  {
    id: "cochran-1954",
    reference: "Cochran WG. Some methods for strengthening the common chi-square tests. Biometrics 1954;10:417-51.",
    status: "memory",
  },
  {
    id: "rao-scott-1981",
    reference:
      "Rao JNK, Scott AJ. The analysis of categorical data from complex sample surveys: chi-squared tests for goodness of fit and independence in two-way tables. J Am Stat Assoc 1981;76:221-30.",
    status: "memory",
  },
  {
    id: "rao-scott-1984",
    reference:
      "Rao JNK, Scott AJ. On chi-squared tests for multiway contingency tables with cell proportions estimated from survey data. Ann Stat 1984;12:46-60.",
    status: "memory",
  },
  {
    id: "benjamini-hochberg-1995",
    reference:
      "Benjamini Y, Hochberg Y. Controlling the false discovery rate: a practical and powerful approach to multiple testing. J R Stat Soc B 1995;57:289-300.",
    status: "memory",
  },
  {
    id: "holm-1979",
    reference: "Holm S. A simple sequentially rejective multiple test procedure. Scand J Stat 1979;6:65-70.",
    status: "memory",
  },
  {
    id: "newcombe-1998",
    reference:
      "Newcombe RG. Two-sided confidence intervals for the single proportion: comparison of seven methods. Stat Med 1998;17:857-72.",
    status: "partly",
  },
  {
    id: "clopper-pearson-1934",
    reference:
      "Clopper CJ, Pearson ES. The use of confidence or fiducial limits illustrated in the case of the binomial. Biometrika 1934;26:404-13.",
    status: "memory",
  },
  {
    id: "own-coverage-limits",
    reference: "Limits of coverage (own judgement)",
    status: "practice",
  },
  {
    id: "own-design-lines",
    reference: "Limits of what a sampling design can carry (own judgement)",
    status: "practice",
  },
  {
    id: "kish-1992",
    reference: "Kish L. Weighting for unequal Pi. Journal of Official Statistics 1992;8:183-200.",
    status: "memory",
  },
  {
    id: "kish-1965",
    reference: "Kish L. Survey Sampling. New York: Wiley; 1965.",
    status: "memory",
  },
  {
    id: "own-entry-times",
    reference: "Time needed to measure a child, and hours of fieldwork (own judgement)",
    status: "practice",
  },
  {
    id: "dhs-small-numbers",
    reference: "Demographic and Health Surveys and Multiple Indicator Cluster Surveys, report conventions.",
    status: "confirmed",
  },
  {
    id: "mgrs-length-height-2006",
    reference:
      "WHO Multicentre Growth Reference Study Group. WHO Child Growth Standards based on length/height, weight and age. Acta Paediatr 2006;Suppl 450:76-85.",
    status: "confirmed",
  },
  {
    id: "dhs-position",
    reference: "Demographic and Health Surveys, recode notes.",
    status: "confirmed",
  },
  {
    id: "position-87-cm",
    reference: "Field rule of 87 cm: lying or standing",
    status: "memory",
  },
  {
    id: "dhs-mr33",
    reference: "Benedict RK, Namaste S, Croft T. DHS Methodological Reports No. 33; 2022.",
    status: "confirmed",
  },
  {
    id: "who-1995",
    reference:
      "WHO Expert Committee. Physical status: the use and interpretation of anthropometry. WHO Technical Report Series 854. Geneva: World Health Organization; 1995.",
    status: "partly",
  },
  {
    id: "who-unicef-2019",
    reference:
      "WHO, UNICEF. Recommendations for data collection, analysis and reporting on anthropometric indicators in children under 5 years old. Geneva; 2019.",
    status: "partly",
  },
  {
    id: "crowe-2014",
    reference: "Crowe S, Seal A, Grijalva-Eternod C, Kerac M. PeerJ 2014;2:e380.",
    status: "confirmed",
  },
  {
    id: "simmons-2016",
    reference: "Simmons K, et al. Reply to Kuriakose and Robbins, 2016.",
    status: "confirmed",
  },
  {
    id: "digit-preference-score",
    reference:
      "Kuulasmaa K, Hense HW, Tolonen H. Quality assessment of data on blood pressure in the WHO MONICA project. 1998: terminal digit preference score.",
    status: "partly",
  },
  {
    id: "dissimilarity-index",
    reference:
      "Duncan OD, Duncan B. A methodological analysis of segregation indexes. American Sociological Review 1955;20:210-7.",
    status: "memory",
  },
  {
    id: "digit-noise",
    reference: "Last digits by chance (own computation)",
    status: "computed",
  },
  {
    id: "rounding-variance",
    reference: "Variance that rounding adds (own computation)",
    status: "computed",
  },
  {
    id: "measure-to-a-millimetre",
    reference: "Reading steps in field manuals",
    status: "partly",
  },
  {
    id: "mei-2007",
    reference: "Mei Z, Grummer-Strawn LM. Bulletin of the World Health Organization 2007;85:441-8.",
    status: "confirmed",
  },
  {
    id: "conkle-2017",
    reference: "Conkle J, et al. PLoS ONE 2017;12:e0189332.",
    status: "confirmed",
  },
  {
    id: "bilukha-2023",
    reference: "Bilukha O, Kianian B. Maternal and Child Nutrition 2023;19:e13478.",
    status: "confirmed",
  },
  {
    id: "bilukha-2020",
    reference: "Bilukha O, et al. BMC Nutrition 2020, s40795-020-00385-0.",
    status: "confirmed",
  },
  {
    id: "brown-forsythe-1974",
    reference:
      "Brown MB, Forsythe AB. Robust tests for the equality of variances. Journal of the American Statistical Association 1974;69:364-7.",
    status: "memory",
  },
  {
    id: "spread-lines",
    reference:
      "Grange, Mock, Collins. PLoS ONE 2024;19(9):e0304131: standard deviations of 0.8 to 1.2 where training and supervision are intensive.",
    status: "confirmed",
  },
  {
    id: "green-1966",
    reference:
      "Green RH. Measurement of non-randomness in spatial distributions. Researches on Population Ecology 1966;8:1-7.",
    status: "partly",
  },
  {
    id: "intraclass-searle",
    reference:
      "Searle SR. Linear Models. New York: Wiley; 1971, chapter 9; Donner A. International Statistical Review 1986;54:67-82.",
    status: "memory",
  },
  {
    id: "hulland-2016",
    reference: "Hulland EN, Blanton CJ, Leidman EZ, Bilukha OO. Emerging Themes in Epidemiology 2016;13:13.",
    status: "confirmed",
  },
  {
    id: "kaiser-2006",
    reference: "Kaiser R, et al. Disasters 2006;30:199-211.",
    status: "confirmed",
  },
  {
    id: "joanes-gill-1998",
    reference:
      "Joanes DN, Gill CA. Comparing measures of sample skewness and kurtosis. The Statistician 1998;47:183-9.",
    status: "partly",
  },
  {
    id: "stephens-1986",
    reference:
      "Stephens MA. Tests based on EDF statistics. In: D'Agostino RB, Stephens MA, editors. Goodness-of-Fit Techniques. New York: Marcel Dekker; 1986, table 4.9.",
    status: "partly",
  },
  {
    id: "dagostino-1990",
    reference:
      "D'Agostino RB, Belanger A, D'Agostino RB Jr. A suggestion for using powerful and informative tests of normality. The American Statistician 1990;44:316-21.",
    status: "partly",
  },
  {
    id: "wright-herrington-2011",
    reference:
      "Wright DB, Herrington JA. Problematic standard errors and confidence intervals for skewness and kurtosis. Behavior Research Methods 2011;43:8-17.",
    status: "partly",
  },
  {
    id: "who-unicef-2019-quality",
    reference:
      "WHO and UNICEF. Recommendations for data collection, analysis and reporting on anthropometric indicators in children under 5 years old. Geneva; 2019.",
    status: "memory",
  },
  {
    id: "frison-2016",
    reference: "Frison S, et al. Emerging Themes in Epidemiology 2016;13:7.",
    status: "confirmed",
  },
  {
    id: "scheffe-1959",
    reference: "Scheffe H. The Analysis of Variance. New York: Wiley; 1959.",
    status: "memory",
  },
  {
    id: "variance-components",
    reference:
      "Searle SR, Casella G, McCulloch CE. Variance Components. New York: Wiley; 1992. Degrees of freedom: Satterthwaite FE. Biometrics Bulletin 1946;2:110-4.",
    status: "memory",
  },
  {
    id: "korn-graubard-1998",
    reference: "Korn EL, Graubard BI. Surv Methodol 1998;24:193-201.",
    status: "memory",
  },
  {
    id: "mitchell-beauchamp-1988",
    reference: "Mitchell TJ, Beauchamp JJ. J Am Stat Assoc 1988;83:1023-32: spike and slab.",
    status: "memory",
  },
  {
    id: "raiffa-schlaifer-1961",
    reference: "Raiffa H, Schlaifer R. Applied statistical decision theory. Boston; 1961: preposterior analysis.",
    status: "memory",
  },
  {
    id: "rubin-1987",
    reference: "Rubin DB. Multiple imputation for nonresponse in surveys. New York: Wiley; 1987.",
    status: "memory",
  },
  {
    id: "barnard-rubin-1999",
    reference:
      "Barnard J, Rubin DB. Small-sample degrees of freedom with multiple imputation. Biometrika 1999;86:948-55.",
    status: "memory",
  },
  {
    id: "cook-stefanski-1994",
    reference:
      "Cook JR, Stefanski LA. Simulation-extrapolation estimation in parametric measurement error models. Journal of the American Statistical Association 1994;89:1314-28.",
    status: "memory",
  },
  {
    id: "grellety-golden-2016",
    reference:
      "Grellety E, Golden MH. The effect of random error on diagnostic accuracy illustrated with the anthropometric diagnosis of malnutrition. PLoS ONE 2016;11:e0168585.",
    status: "confirmed",
  },
  {
    id: "dempster-1977",
    reference:
      "Dempster AP, Laird NM, Rubin DB. Maximum likelihood from incomplete data via the EM algorithm. Journal of the Royal Statistical Society, Series B 1977;39:1-38.",
    status: "memory",
  },
  {
    id: "daily-instrument-check",
    reference: "Daily check of instruments",
    status: "practice",
  },
  {
    id: "obesity-three-sd",
    reference: "Definition of obesity",
    status: "memory",
  },
  {
    id: "schenker-gentleman-2001",
    reference:
      "Schenker N, Gentleman JF. On judging the significance of differences by examining the overlap between confidence intervals. The American Statistician 2001;55:182-6.",
    status: "confirmed",
  },
  {
    id: "johnston-2021",
    reference: "Johnston R, et al. PLoS ONE 2021;e0260301.",
    status: "confirmed",
  },
  {
    id: "marshak-2021",
    reference: "Marshak A, et al. International Journal of Environmental Research and Public Health 2021.",
    status: "partly",
  },
  {
    id: "cochran-1954-combination",
    reference: "Cochran WG. The combination of estimates from different experiments. Biometrics 1954;10:101-29.",
    status: "memory",
  },
  {
    id: "higgins-thompson-2002",
    reference: "Higgins JPT, Thompson SG. Quantifying heterogeneity in a meta-analysis. Stat Med 2002;21:1539-58.",
    status: "memory",
  },
  {
    id: "viechtbauer-2005",
    reference:
      "Viechtbauer W. Bias and efficiency of meta-analytic variance estimators in the random-effects model. J Educ Behav Stat 2005;30:261-93.",
    status: "memory",
  },
  {
    id: "viechtbauer-2007",
    reference:
      "Viechtbauer W. Confidence intervals for the amount of heterogeneity in meta-analysis. Stat Med 2007;26:37-52.",
    status: "memory",
  },
  {
    id: "cochran-1977",
    reference:
      "Cochran WG. Sampling Techniques. 3rd edition. New York: Wiley; 1977, chapter 5 (strata), chapter 10 (two stages).",
    status: "memory",
  },
] as const satisfies readonly Source[];

export type SourceId = (typeof list)[number]["id"];

export const sources: ReadonlyMap<string, Source> = new Map(list.map((source: Source) => [source.id, source]));
