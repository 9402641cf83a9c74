using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Agendas;

/// <summary>Says which series was used where the runs of the ensemble lack what a condition asks.</summary>
internal static class BorrowedHours
{
    public static Reason? Of(Condition condition, ImmutableArray<WeatherVariable> borrowed, Speech speech)
    {
        string[] lacking =
        [
            .. Evaluate.Phrases(condition)
                .Where(phrase => VariableOf(phrase.Of.Measure) is { } variable && borrowed.Contains(variable))
                .Select(phrase => speech.Word(ConditionLanguage.Row(phrase.Of.Measure).Noun))
                .Distinct(),
        ];
        return lacking.Length == 0
            ? null
            : new("borrowed", ImmutableDictionary<string, double>.Empty,
                speech.Say($"The forecast's runs tell no {string.Join(speech.Say(" and no "), lacking)}: those of the forecast itself stand in."));
    }

    /// <summary>The one variable that a measure is read from; null for what models make of several.</summary>
    private static WeatherVariable? VariableOf(Measure measure) => measure switch
    {
        Measure.Rain => WeatherVariable.Rain,
        Measure.Snow => WeatherVariable.Snowfall,
        Measure.Gust => WeatherVariable.Gust,
        Measure.Wind => WeatherVariable.Wind,
        Measure.Humidity => WeatherVariable.RelativeHumidity,
        Measure.DewPoint => WeatherVariable.DewPoint,
        Measure.Cloud => WeatherVariable.CloudCover,
        Measure.Sun => WeatherVariable.Radiation,
        Measure.WaterUse => WeatherVariable.ReferenceEvapotranspiration,
        _ => null,
    };
}
