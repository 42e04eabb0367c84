"""What the kinds of values in records are made of: all that reading a compiled record needs.

The full kinds, with closed words, bounds and forms, are in `coldspell.records.kinds` and
`coldspell.records.terms`; evaluating them takes ten times as long.
"""

from coldspell.records.quantity import Quantity

# fmt: off
Celsius = ChillingCelsius = Count = Days = Depth = FrostCelsius = GraftMillimetres = Quantity
GraftYears = GramsPerLitre = HeatCelsius = Hours = HoursOfLight = Millimetres = Minutes = Quantity
Percent = SoilCelsius = StorageCelsius = Strength = Years = Quantity
CheckId = CommonName = Day = FactName = Family = FootnoteName = Language = Name = PathInLibrary = str
Sentence = Slug = Synonym = TreatmentName = WfoId = str
Basis = Behaviour = BulkClass = Cleaning = Do = ColdCounted = DormancyClass = DormancyLevel = HazardKind = str
HazardTo = LawAbout = Need = OffspringUse = Plant = Rank = Sexes = Size = SowLight = TestLight = str
Ground = Laid = SownIn = TrueToType = Unit = Until = str
Footnotes, Months = tuple[str, ...], tuple[int, int]
GbifKey = Version = int
# fmt: on
