using NodaTime;

namespace GardenWatch.Web;

/// <summary>So many tries at once, and then one each so often; for each key its own.</summary>
/// <param name="refill">Until one more is allowed.</param>
internal sealed class Allowance(int atOnce, Duration refill, IClock clock)
{
    /// <summary>Keys are made up by whoever asks: they must not fill the memory.</summary>
    private const int MostKeys = 1000;

    private readonly Lock _gate = new();
    private readonly Dictionary<string, (double Left, Instant At)> _left = new(StringComparer.Ordinal);

    /// <summary>Takes one try; false, and how long to wait, when there is none left.</summary>
    public bool Take(string key, out Duration wait)
    {
        lock (_gate)
        {
            var now = clock.GetCurrentInstant();
            if (_left.Count >= MostKeys)
            {
                foreach (string full in _left.Where(entry => Now(entry.Value, now) >= atOnce).Select(entry => entry.Key).ToList())
                    _left.Remove(full);
                // Nobody new while so many are waited for.
                if (_left.Count >= MostKeys && !_left.ContainsKey(key))
                {
                    wait = refill;
                    return false;
                }
            }
            double left = _left.TryGetValue(key, out var was) ? Now(was, now) : atOnce;
            bool allowed = left >= 1;
            wait = allowed ? Duration.Zero : refill * (1 - left);
            _left[key] = (allowed ? left - 1 : left, now);
            return allowed;
        }
    }

    // A clock set back gives nothing and takes nothing.
    private double Now((double Left, Instant At) was, Instant now) => Math.Min(atOnce, was.Left + Math.Max(0, (now - was.At) / refill));
}
