using System.Text;

namespace GardenWatch.Messages;

/// <summary>How settings that hold a secret print themselves: in a log or a fault they may be shown, their secret not.</summary>
/// <remarks>A path may be as good as a password (a push topic is), so of an address only the host is printed.</remarks>
public static class Masked
{
    public static string Of(string? secret) => secret is null ? "none" : "***";

    public static bool Print(StringBuilder text, params ReadOnlySpan<(string Name, string Value)> members)
    {
        ArgumentNullException.ThrowIfNull(text);
        for (int i = 0; i < members.Length; i++)
            text.Append(i == 0 ? "" : ", ").Append(members[i].Name).Append(" = ").Append(members[i].Value);
        return true;
    }
}
