using System.Globalization;
using System.Text;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>Puts a question together. A decimal comma would be read as a second place, so numbers are invariant.</summary>
internal sealed class ServiceAddress(Uri service)
{
    private readonly StringBuilder _query = new(service.Query.TrimStart('?'));

    public ServiceAddress With(string key, string value)
    {
        if (_query.Length > 0)
            _query.Append('&');
        // Commas between variables stay as they are: the address remains readable in a log.
        _query.Append(key).Append('=').Append(Uri.EscapeDataString(value).Replace("%2C", ",", StringComparison.Ordinal));
        return this;
    }

    public ServiceAddress With(string key, double value) => With(key, value.ToString("0.######", CultureInfo.InvariantCulture));

    public Uri Whole => new UriBuilder(service) { Query = _query.ToString() }.Uri;
}
