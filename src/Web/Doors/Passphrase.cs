namespace Whetwright.Web.Doors;

/// <summary>What makes a passphrase of the master.</summary>
public static class Passphrase
{
    private const int FewestLetters = 5; // different characters: chosen, not derived

    /// <summary>What is wrong with it and what would be right; null where nothing is. No rules about kinds of characters (ASVS 2.1.9).</summary>
    public static string? Problem(string passphrase)
    {
        if (passphrase.Length < DoorLimits.ShortestPassphrase)
            return $"has {passphrase.Length} characters; at least {DoorLimits.ShortestPassphrase} would be right, such as four or five words that do not belong together";
        if (passphrase.Length > DoorLimits.LongestPassphrase)
            return $"has {passphrase.Length} characters; at most {DoorLimits.LongestPassphrase} would be right";
        if (passphrase.Any(char.IsControl))
            return "holds a control character; letters, figures, signs and spaces would be right";
        return passphrase.Distinct().Count() < FewestLetters ? $"has fewer than {FewestLetters} different characters; some words would be right" : null;
    }
}
